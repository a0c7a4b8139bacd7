"""Records full of planted identities: in every field that takes text, and in photos. Invented."""

import io
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml
from PIL import Image, PngImagePlugin

from tests.library.planted import PLANTED, Planted

EACH = 22
"""Wet places of a record, one for each planted identity."""
_STROKES = str.maketrans({"ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "ß": "ss"})


@dataclass(frozen=True, slots=True)
class Record:
    """photos: their names, which are asked for on the screen."""

    path: Path
    callout: str
    photos: tuple[str, ...]


class _Plain(yaml.SafeDumper):
    """Says again what it has said before: records know no aliases."""

    def ignore_aliases(self, data: object) -> bool:  # noqa: ARG002 - the name is given
        return True


def ascii_of(text: str) -> str:
    """Without accents."""
    return re.sub("[\u0300-\u036f]", "", unicodedata.normalize("NFD", text.translate(_STROKES)))


def word_of(text: str) -> str:
    """As a key in words, where only such may stand."""
    return "-".join(re.findall("[a-z0-9]+", ascii_of(text).lower()))


def name_of(text: str) -> str:
    """As the name of a callout or a wet place."""
    return "-".join(re.findall(r"[^\W_]+", unicodedata.normalize("NFC", text)))[:60].strip("-")


def write_records(folder: Path, *, everywhere: bool) -> list[Record]:
    """All that is planted, some in each record.

    everywhere: in the private block and in the names of places too. Else the private block has
    only what stands beside the note, so that the notes rest on what scrubbing finds by itself.
    """
    groups = [PLANTED[at : at + EACH] for at in range(0, len(PLANTED), EACH)]
    return [_write(folder, n, group, everywhere) for n, group in enumerate(groups, 1)]


def _write(folder: Path, number: int, group: Sequence[Planted], everywhere: bool) -> Record:
    photos = [_photos(folder, f"{number}-{n}", one) for n, one in enumerate(group)]
    names = [
        f"{name_of(one.telling[0])}-{n}" if everywhere else f"L{n}" for n, one in enumerate(group)
    ]
    callout = f"{name_of(group[0].telling[0])}-{number}"
    everyone = " ".join(one.sentence for one in group)
    record = {
        "callout": callout,
        "private": _private(group, everywhere),
        "structure": {
            "kind": {"value": "basement", "note": everyone},
            "agreed-scheme": {"value": everyone, "how": "document", "note": everyone},
        },
        "visits": [
            {"date": "2031-04-16", "not-seen": everyone, "rain": _noted("heavy", everyone)},
            {"date": "2031-05-20", "not-seen": {"value": everyone, "how": "told"}},
        ],
        "leaks": [
            _leak(name, one, those) for name, one, those in zip(names, group, photos, strict=True)
        ],
        "releases": [
            {
                "stop": "bulging-wall",
                "leak": name,
                "role": one.sentence,
                "name": one.telling[0],
                "date": "2031-04-17",
                "words": one.sentence,
            }
            for name, one in zip(names, group, strict=True)
        ],
        "log": [entry for name, one in zip(names, group, strict=True) for entry in _log(name, one)],
        "truth": {"causes": ["wall-foot-joint"], "because": everyone},
    }
    path = folder / f"record-{number}.yaml"
    text = yaml.dump(record, Dumper=_Plain, allow_unicode=True, sort_keys=False, width=4000)
    path.write_text(text, encoding="utf-8")
    return Record(path, callout, tuple(name for those in photos for name in those))


def _private(group: Sequence[Planted], everywhere: bool) -> dict[str, Any]:
    private: dict[str, Any] = {f"of-{n}": one.private for n, one in enumerate(group) if one.private}
    if everywhere:
        kinds = ("crew", "plant", "contractor", "designer", "address", "site")
        private |= {kind: one.telling[0] for kind, one in zip(kinds, group, strict=False)}
        private["people"] = [{"name": one.telling[0], "said": one.sentence} for one in group]
        private |= {f"{one.telling[0]} ": {"said": one.sentence} for one in group}
    return private


def _noted(value: str, note: str) -> dict[str, str]:
    return {"value": value, "note": note}


def _leak(name: str, one: Planted, photos: Sequence[str]) -> dict[str, Any]:
    return {
        "leak": name,
        "where": one.sentence,
        "photos": list(photos),
        "findings": {
            "crack-width": {"value": "0.3 mm", "how": "measured", "note": one.sentence},
            "deposits": {"value": ["lime"], "note": one.sentence},
            "wet-zone": [
                {"value": "wall-foot", "visit": 1, "note": one.sentence},
                {"missing": "no-access", "visit": 2, "note": one.sentence},
            ],
        },
    }


def _log(leak: str, one: Planted) -> Iterable[Mapping[str, Any]]:
    words, who = one.sentence, word_of(one.telling[0]) or "nobody"
    told = one.telling[0]
    for number, entry in enumerate(
        (
            {
                "proposed": {
                    "advisor": told,
                    "knowledge": told,
                    "settled-on": "cause",
                    "causes": {"wall-foot-joint": 0.6, who: 0.4},
                    "methods": {who: 0.5},
                    "advised": who,
                    "looks": [who, "crack-card"],
                    "stops": [who],
                }
            },
            {"secured": "water-stop-foam"},
            {"agreed": "gel-injection", "by": [who, "owner"]},
            {
                "done": "gel-injection",
                "quantities": {"epoxy-resin": told, "coats": words},
                "conditions": words,
                "deviations": words,
                "packers": [{"packer": told, "pressure": "20 bar", "ended": words}],
            },
            {
                "confirmed": "wall-foot-joint",
                "how": "opened-and-seen",
                "role": who,
                "present": [who, "expert"],
                "accepted-by": who,
            },
            {"supported": "wall-foot-joint"},
            {
                "looked": "tight",
                "water-up": "yes",
                "readings": {"crack-width": "0.2 mm", "not-seen": words},
            },
            {"told": who},
            {"handed-over": who},
            {"closed": "withdrawn"},
        )
    ):
        yield {"leak": leak, "date": f"2031-06-{10 + number}", **entry, "words": words}


def _photos(folder: Path, number: str, one: Planted) -> tuple[str, ...]:
    """A photo named after who is planted, with the note in all that is written beside it."""
    note, name = one.sentence.encode(), re.sub(r"[/\0]", " ", one.telling[0])
    out = io.BytesIO()
    picture = Image.linear_gradient("L").resize((16, 12)).convert("RGB")
    exif = Image.Exif()
    exif[0x010E] = ascii_of(one.sentence)
    exif.get_ifd(0x8769)[0x9286] = b"UNICODE\0" + note
    if sum(map(int, number.split("-"))) % 2:
        name = f"{number} {name}.jpg"
        picture.save(out, "JPEG", exif=exif.tobytes(), comment=note, xmp=b"<x>" + note + b"</x>")
    else:
        name = f"{number} {name}.png"
        beside = PngImagePlugin.PngInfo()
        beside.add_text("Author", ascii_of(one.sentence))
        beside.add_itxt("Description", one.sentence)
        picture.save(out, "PNG", pnginfo=beside, exif=exif.tobytes())
    (folder / name).write_bytes(out.getvalue() + note)
    return (name,)
