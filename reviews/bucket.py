"""A bucket that speaks S3, as the store of pictures: private, and never waited for without end.

Whatever it can't do is an OSError, as on a disk, so that nothing else asks which store it is:
FileNotFoundError where there is no such file, StoreAway where the store doesn't answer.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from functools import wraps
from shutil import copyfileobj
from tempfile import SpooledTemporaryFile
from time import monotonic
from typing import Any, NoReturn, TypeVar

from boto3.s3.transfer import TransferConfig
from botocore.config import Config
from botocore.exceptions import BotoCoreError, ClientError
from django.core.files.base import File
from storages.backends.s3 import S3Storage

from reviews.outages import StoreAway

T = TypeVar("T")

IN_MEMORY = 2 * 2**20
"""Beyond so much [bytes] a file that is read lies on the disk, not in memory."""

REST_S = 5.0
"""For how long nobody waits for a store again that didn't answer [s]."""

SILENT = "The store of pictures doesn't answer"
ASKED = {
    "connect_timeout": 3,  # s
    "read_timeout": 10,  # s
    "retries": {"mode": "standard", "total_max_attempts": 2},
    "signature_version": "s3v4",
    "s3": {"addressing_style": "path"},
    # what every store of the kind understands
    "request_checksum_calculation": "when_required",
    "response_checksum_validation": "when_required",
}


def _answered(ask: Callable[..., T]) -> Callable[..., T]:
    """Let what a store can't do be told as a disk would tell it."""

    @wraps(ask)
    def asked(self: Bucket, *args: Any, **more: Any) -> T:
        if monotonic() < self.rests_until:
            raise StoreAway(SILENT)
        try:
            return ask(self, *args, **more)
        except ClientError as error:
            code = error.response["Error"]["Code"]
            if code in ("NoSuchKey", "404"):
                raise FileNotFoundError(f"The store has no {args[0]}") from error
            if error.response["ResponseMetadata"]["HTTPStatusCode"] in (500, 502, 503, 504):
                raise StoreAway(f"{SILENT}: {code}") from error
            raise OSError(f"The store refuses: {code}") from error
        except BotoCoreError as error:
            self.rests_until = monotonic() + REST_S
            raise StoreAway(f"{SILENT}: {error}") from error

    return asked


class Bucket(S3Storage):  # type: ignore[misc]
    """Files in a bucket: none is written over, none has an address of its own."""

    file_overwrite = False
    security_token = session_profile = default_acl = None
    client_config = Config(**ASKED)
    transfer_config = TransferConfig(use_threads=False)
    rests_until = 0.0

    exists = _answered(S3Storage.exists)
    delete = _answered(S3Storage.delete)
    listdir = _answered(S3Storage.listdir)
    size = _answered(S3Storage.size)
    get_modified_time = _answered(S3Storage.get_modified_time)
    _save = _answered(S3Storage._save)

    @_answered
    def _open(self, name: str, mode: str = "rb") -> File[bytes]:
        """Fetch a file whole, so that what breaks off is known before anything is sent on."""
        return self._fetched(name)

    @_answered
    def open_part(self, name: str, begin: int, length: int) -> File[bytes]:
        """Fetch so many bytes of a file, and no more."""
        return self._fetched(name, Range=f"bytes={begin}-{begin + length - 1}")

    def _fetched(self, name: str, **more: str) -> File[bytes]:
        client, key = self.connection.meta.client, self._normalize_name(name)
        answer = client.get_object(Bucket=self.bucket_name, Key=key, **more)
        with ExitStack() as unless_whole:
            file = unless_whole.enter_context(SpooledTemporaryFile[bytes](IN_MEMORY))
            copyfileobj(answer["Body"], file)
            file.seek(0)
            unless_whole.pop_all()
        return File(file, name)

    def signed_address(self, name: str, kind: str, disposition: str, for_s: int) -> str:
        """An address that opens one file for some seconds, to whoever has it."""
        asked = {
            "Bucket": self.bucket_name,
            "Key": self._normalize_name(name),
            "ResponseContentType": kind,
            "ResponseContentDisposition": disposition,
            "ResponseCacheControl": "private, no-store",
        }
        client = self.connection.meta.client
        signed: str = client.generate_presigned_url("get_object", Params=asked, ExpiresIn=for_s)
        return signed

    def url(self, *args: Any, **more: Any) -> NoReturn:
        """Give no address: who may look is asked of reviews.access, each time."""
        raise NotImplementedError("Pictures are sent by views alone.")
