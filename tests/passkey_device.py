"""A device that holds one passkey, by W3C Web Authentication Level 2 (5.8.1, 6.1, 6.3), or lies."""

import hashlib
import json
import secrets
from dataclasses import dataclass, field
from typing import Any

from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from fido2 import cbor

from tests.school_server import b64

PRESENT, VERIFIED, NEW = 0x01, 0x04, 0x40


def _new_key() -> ec.EllipticCurvePrivateKey:
    return ec.generate_private_key(ec.SECP256R1())


@dataclass
class Device:
    """Its key; whose it is, once it is made; the page that it believes to be on."""

    origin: str = "https://testserver"
    site: str = "testserver"
    flags: int = PRESENT | VERIFIED
    key: ec.EllipticCurvePrivateKey = field(default_factory=_new_key)
    name: bytes = field(default_factory=lambda: secrets.token_bytes(16))
    owner: str = ""

    def made(self, asked: dict[str, Any]) -> str:
        """What a browser sends of a new passkey."""
        asked = asked["publicKey"]
        self.owner = asked["user"]["id"]
        x, y = (v.to_bytes(32) for v in (self._point.x, self._point.y))
        public = cbor.encode({1: 2, 3: -7, -1: 1, -2: x, -3: y})  # RFC 9052: an ES256 key
        held = bytes(16) + len(self.name).to_bytes(2) + self.name + public
        data = {"fmt": "none", "attStmt": {}, "authData": self._state(NEW) + held}
        said = self._said("webauthn.create", asked["challenge"])
        return self._sent(clientDataJSON=b64(said), attestationObject=b64(cbor.encode(data)))

    def answered(self, asked: dict[str, Any]) -> str:
        """What a browser sends of a passkey that is kept."""
        said = self._said("webauthn.get", asked["publicKey"]["challenge"])
        proof = self._state() + hashlib.sha256(said).digest()
        return self._sent(
            clientDataJSON=b64(said),
            authenticatorData=b64(self._state()),
            signature=b64(self.key.sign(proof, ec.ECDSA(SHA256()))),
            userHandle=self.owner,
        )

    @property
    def _point(self) -> ec.EllipticCurvePublicNumbers:
        return self.key.public_key().public_numbers()

    def _state(self, more: int = 0) -> bytes:
        return hashlib.sha256(self.site.encode()).digest() + bytes([self.flags | more, 0, 0, 0, 1])

    def _said(self, kind: str, challenge: str) -> bytes:
        return json.dumps({"type": kind, "challenge": challenge, "origin": self.origin}).encode()

    def _sent(self, **response: str) -> str:
        name = {"id": b64(self.name), "rawId": b64(self.name), "type": "public-key"}
        return json.dumps(name | {"response": response, "clientExtensionResults": {}})
