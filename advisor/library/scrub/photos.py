"""Photos without what a camera writes beside the picture: place, time, device, small copies."""

import io
import warnings
from typing import TYPE_CHECKING, Final

from advisor.terms import Faulty, Problem

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS: Final = 50_000_000
_READ: Final = ("PNG", "JPEG", "MPO", "WEBP", "TIFF", "BMP", "GIF")
_QUALITY: Final = 90
_PLAIN: Final = {"1": "L", "L": "L", "RGB": "RGB", "RGBA": "RGBA", "I;16": "I;16"}
"""Modes that keep every pixel when they are written as this one; all others become colours."""


def without_metadata(data: bytes, *, file: str = "") -> bytes:
    """The picture alone, upright, encoded anew from its pixels; of a film the first picture.

    JPEG stays JPEG; all else becomes PNG, and its pixels stay the same to the last bit.
    file: its name in messages. Raises Faulty where it is no picture, is broken, or has over 50
    million pixels.
    """
    from PIL import Image, ImageOps  # noqa: PLC0415 - only who adds photos needs it

    try:
        with warnings.catch_warnings():
            # The limit below is ours, and stricter.
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(data), formats=_READ) as opened:
                # The size stands in the header: nothing is unpacked before it is known.
                if opened.width * opened.height > MOST_PIXELS:
                    raise _too_large(file, opened.width, opened.height)
                lossy = opened.format in ("JPEG", "MPO")
                upright = ImageOps.exif_transpose(opened)
    except Image.DecompressionBombError:
        raise _too_large(file) from None
    except Faulty:
        raise
    # A broken picture fails in as many ways as there are formats.
    except Exception:
        raise _no_picture(file, data) from None
    return _encoded(_bare(upright), lossy=lossy)


def _bare(picture: "Image") -> "Image":
    """The pixels in an image that never had anything else."""
    from PIL import Image  # noqa: PLC0415

    clear = "A" in picture.getbands() or "transparency" in picture.info
    mode = _PLAIN.get(picture.mode, "RGBA" if clear else "RGB")
    if clear:
        mode = "RGBA"
    pixels = picture if picture.mode == mode else picture.convert(mode)
    return Image.frombytes(mode, pixels.size, pixels.tobytes())


def _encoded(picture: "Image", *, lossy: bool) -> bytes:
    out = io.BytesIO()
    if lossy:
        picture.save(out, "JPEG", quality=_QUALITY)
    else:
        picture.save(out, "PNG")
    return out.getvalue()


def _too_large(file: str, width: int | None = None, height: int | None = None) -> Faulty:
    size = f" ({width} x {height} pixels)" if width and height else ""
    return Faulty(
        Problem(
            message=f"the photo is too large{size}",
            file=file,
            expected="at most 50 million pixels; save a smaller copy",
        )
    )


def _no_picture(file: str, data: bytes) -> Faulty:
    return Faulty(
        Problem(
            message="this is no photo, or a broken one" if data else "the file is empty",
            file=file,
            expected="a PNG or JPEG that opens in a viewer; or leave the photo out",
        )
    )
