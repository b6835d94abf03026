"""What the environment says of the store of pictures: a bucket, or a folder on this machine."""

from __future__ import annotations

import re
from importlib.util import find_spec
from urllib.parse import parse_qs, unquote, urlsplit

from reviews.env import refuse, text

FOLDER: dict[str, object] = {"BACKEND": "django.core.files.storage.FileSystemStorage"}
BUCKET = re.compile(r"[a-z0-9][a-z0-9.-]{1,61}[a-z0-9]")
_STORE = "s3://KEY:SECRET@HOST/BUCKET?region=REGION&tls=yes, key and secret percent-encoded"


def store(name: str) -> dict[str, object]:
    """Return Django's settings of the store that a URL names; without one, of a folder.

    Of what is refused nothing is repeated but its kind: the rest may hold the secret.
    """
    url = text(name).strip()
    if not url:
        return FOLDER
    begun = f"“{url.partition(':')[0]}:…”"
    try:
        parts = urlsplit(url)
        port, host = parts.port, parts.hostname
    except ValueError:
        refuse(name, f"{begun} with a port or host that is none", _STORE)
    bucket = parts.path.strip("/")
    if parts.scheme != "s3":
        refuse(name, begun, _STORE)
    if not (host and parts.username and parts.password):
        refuse(name, f"{begun} without host, key or secret", _STORE)
    if not BUCKET.fullmatch(bucket) or parts.fragment:
        refuse(name, f"{begun} without the name of a bucket", _STORE)
    asked = parse_qs(parts.query, keep_blank_values=True)
    tls, region = asked.pop("tls", ["yes"])[-1], asked.pop("region", ["us-east-1"])[-1]
    if asked or tls not in ("yes", "no") or not region:
        refuse(name, f"{begun} with something else behind “?”", _STORE)
    if not (find_spec("storages") and find_spec("boto3")):
        refuse(name, f"{begun}, and no library for it", "it to be installed too: pip install .[s3]")
    at = f"[{host}]" if ":" in host else host
    return {
        "BACKEND": "reviews.bucket.Bucket",
        "OPTIONS": {
            "endpoint_url": f"http{'s' if tls == 'yes' else ''}://{at}{f':{port}' if port else ''}",
            "bucket_name": bucket,
            "region_name": region,
            "access_key": unquote(parts.username),
            "secret_key": unquote(parts.password),
        },
    }


def sent_from(kept: object, files_by: str) -> list[str]:
    """Whence pictures come beside the site: the store, where it sends them itself."""
    options = kept.get("OPTIONS") if isinstance(kept, dict) else None
    return [options["endpoint_url"]] if options and files_by == "store" else []
