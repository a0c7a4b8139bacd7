"""Photos are kept as pixels: nothing that was written beside them comes along. All invented."""

import io
import struct
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageOps, IptcImagePlugin, PngImagePlugin

from advisor.library.scrub.photos import MOST_PIXELS, without_metadata
from advisor.terms import Faulty

PLANTED = {
    "exif": b"PLANTED-CAMERA-OF-J-NOVAK",
    "gps": b"PLANTED-AREA-LINDENHOF",
    "xmp": b"PLANTED-XMP-CREATOR",
    "iptc": b"PLANTED-IPTC-CITY",
    "comment": b"PLANTED-COMMENT-KEY-4711",
    "icc": b"PLANTED-ICC-DEVICE-SERIAL",
    "thumbnail": b"PLANTED-IN-THUMBNAIL",
    "text": b"PLANTED-PNG-TEXT",
    "behind": b"PLANTED-BEHIND-THE-END",
}
XMP = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'>" + PLANTED["xmp"] + b"</x:xmpmeta>"
SOURCES = ("exif", "gps", "xmp", "iptc", "comment", "icc", "thumbnail", "behind")
ORIENTATION = 0x0112


def picture(mode: str = "RGB", size: tuple[int, int] = (24, 16)) -> Image.Image:
    """No two quarters alike, so that a turn shows."""
    gradient = Image.merge(
        "RGB",
        [
            Image.linear_gradient("L").resize(size),
            Image.radial_gradient("L").resize(size),
            Image.linear_gradient("L").rotate(90).resize(size),
        ],
    )
    gradient.paste((250, 10, 10), (0, 0, 6, 4))
    return gradient.convert(mode)


def exif(orientation: int = 1) -> bytes:
    made = Image.Exif()
    made[ORIENTATION] = orientation
    made[0x010F] = PLANTED["exif"].decode()
    made.get_ifd(0x8825).update({1: "N", 2: (48.0, 8.0, 14.7), 28: PLANTED["gps"]})
    return made.tobytes()


def segment(marker: int, body: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(body) + 2) + body


def iptc() -> bytes:
    record = b"\x1c\x02\x5a" + struct.pack(">H", len(PLANTED["iptc"])) + PLANTED["iptc"]
    block = b"8BIM\x04\x04\x00\x00" + struct.pack(">I", len(record)) + record
    return b"Photoshop 3.0\x00" + block + b"\x00" * (len(record) % 2)


def thumbnail() -> bytes:
    small = io.BytesIO()
    picture(size=(8, 8)).save(small, "JPEG", comment=PLANTED["thumbnail"])
    return b"JFXX\x00\x10" + small.getvalue()


def jpeg(orientation: int = 1) -> bytes:
    out = io.BytesIO()
    picture().save(
        out,
        "JPEG",
        quality=95,
        exif=exif(orientation),
        xmp=XMP,
        comment=PLANTED["comment"],
        icc_profile=PLANTED["icc"] * 8,
    )
    data = out.getvalue()
    beside = segment(0xED, iptc()) + segment(0xE0, thumbnail())
    return data[:2] + beside + data[2:] + PLANTED["behind"]


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png(mode: str = "RGB", orientation: int = 1) -> bytes:
    beside = PngImagePlugin.PngInfo()
    beside.add_text("Author", PLANTED["text"].decode())
    beside.add_itxt("XML:com.adobe.xmp", XMP.decode())
    out = io.BytesIO()
    picture(mode).save(
        out, "PNG", pnginfo=beside, exif=exif(orientation), icc_profile=PLANTED["icc"] * 8
    )
    return out.getvalue() + PLANTED["behind"]


def faults(data: bytes) -> str:
    with pytest.raises(Faulty) as caught:
        without_metadata(data, file="wet.jpg")
    return str(caught.value)


def test_everything_is_planted_in_the_jpeg() -> None:
    data = jpeg(6)
    with Image.open(io.BytesIO(data)) as opened:
        assert opened.getexif()[ORIENTATION] == 6
        assert PLANTED["gps"] in opened.getexif().get_ifd(0x8825).values()
        assert opened.info["xmp"] == XMP
        assert opened.info["comment"] == PLANTED["comment"]
        assert PLANTED["icc"] in opened.info["icc_profile"]
        assert IptcImagePlugin.getiptcinfo(opened) == {(2, 90): PLANTED["iptc"]}
    for source in SOURCES:
        assert PLANTED[source] in data


@pytest.mark.parametrize("data", [jpeg(), jpeg(6), png(), png("RGBA", 3)], ids=range(4))
def test_nothing_planted_is_left(data: bytes) -> None:
    bare = without_metadata(data)
    for planted in PLANTED.values():
        assert planted not in bare
        assert planted not in zlib_texts(bare)
    assert b"PLANTED" not in bare
    with Image.open(io.BytesIO(bare)) as opened:
        opened.load()
        assert not opened.getexif()
        assert not opened.info.keys() & {"exif", "xmp", "icc_profile", "comment", "photoshop"}
        assert IptcImagePlugin.getiptcinfo(opened) is None
        assert getattr(opened, "text", {}) == {}


def zlib_texts(data: bytes) -> bytes:
    """What stands packed in a PNG, unpacked, picture apart."""
    found, at = b"", 8
    while data.startswith(b"\x89PNG") and at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        assert name in (b"IHDR", b"IDAT", b"IEND")
        found += zlib.decompress(body) if name == b"IDAT" else body
        at += 12 + length
    return found


def test_a_jpeg_has_only_the_segments_that_draw_it() -> None:
    data, at, markers = without_metadata(jpeg()), 2, set()
    while data[at + 1] != 0xDA:
        markers.add(data[at + 1])
        at += 2 + struct.unpack(">H", data[at + 2 : at + 4])[0]
    assert markers <= {0xE0, 0xDB, 0xC0, 0xC4}
    assert data.count(b"\xff\xd8") == 1
    assert data.endswith(b"\xff\xd9")


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("mode", ["RGB", "RGBA", "L", "1", "P", "LA"])
def test_the_pixels_of_a_png_are_the_same_and_upright(mode: str, orientation: int) -> None:
    data = png(mode, orientation)
    with Image.open(io.BytesIO(data)) as opened:
        upright = ImageOps.exif_transpose(opened).convert("RGBA")
    with Image.open(io.BytesIO(without_metadata(data))) as bare:
        assert bare.format == "PNG"
        assert bare.size == ((16, 24) if orientation > 4 else (24, 16))
        assert bare.convert("RGBA").tobytes() == upright.tobytes()


def test_sixteen_bits_a_pixel_stay() -> None:
    pixels = bytes(range(256)) * 2
    out = io.BytesIO()
    Image.frombytes("I;16", (16, 16), pixels).save(out, "PNG")
    with Image.open(io.BytesIO(without_metadata(out.getvalue()))) as bare:
        assert bare.tobytes() == pixels


def test_a_jpeg_stays_one_and_looks_the_same() -> None:
    with Image.open(io.BytesIO(jpeg(8))) as opened:
        upright = ImageOps.exif_transpose(opened).convert("L")
    with Image.open(io.BytesIO(without_metadata(jpeg(8)))) as bare:
        assert bare.format == "JPEG"
        assert bare.size == upright.size
        pairs = zip(bare.convert("L").tobytes(), upright.tobytes(), strict=True)
        assert sum(abs(a - b) for a, b in pairs) / (24 * 16) < 3


def test_what_is_no_photo_is_refused() -> None:
    expected = "expected a PNG or JPEG that opens in a viewer; or leave the photo out"
    assert faults(b"") == f"wet.jpg: the file is empty; {expected}"
    assert faults(b"%PDF-1.7 no photo") == f"wet.jpg: this is no photo, or a broken one; {expected}"
    assert "broken" in faults(png()[:90])


def test_one_that_would_not_fit_is_refused_before_it_is_unpacked() -> None:
    for width, height in ((MOST_PIXELS + 1, 1), (60_000, 60_000)):
        head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
        rows = chunk(b"IDAT", zlib.compress(b"\0" * 64)) + chunk(b"IEND", b"")
        message = faults(b"\x89PNG\r\n\x1a\n" + head + rows)
        assert message.startswith("wet.jpg: the photo is too large")
        assert message.endswith("expected at most 50 million pixels; save a smaller copy")


@given(st.binary(max_size=200), st.integers(0, 400))
def test_damaged_bytes_are_a_photo_or_a_clear_refusal(noise: bytes, at: int) -> None:
    data = jpeg()
    try:
        bare = without_metadata(data[:at] + noise + data[at + len(noise) :])
    except Faulty as faulty:
        bare = str(faulty).encode()
    assert bare
    assert b"PLANTED" not in bare
