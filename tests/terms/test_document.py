"""The checked loader: what it keeps, what it refuses, and that nothing else gets out."""

import os
import random
import subprocess
import sys
from contextlib import suppress
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.terms import (
    Faulty,
    Listing,
    Mapping,
    Node,
    Place,
    Scalar,
    day,
    listing,
    mapping,
    number,
    only_keys,
    parse,
    read,
    text,
    whole,
    word,
    yes_no,
)

# Invented, like every callout in the tests.
EXAMPLE = """\
format: 1
structure: {kind: basement}       # a comment
visits:
  - {date: 2031-04-16}            # another
leaks:
  - leak: L1
    where: "behind the boiler # 2"
    findings:
      relation-to-joint: at the joint
      crack-width: 0.2-0.3 mm
      flow: {value: 40 drops/min, how: measured, visit: 1}
      wet-after-rain: {value: yes, how: told, sure: false}
      deposits: [lime, rust]
      note: |
        two lines
        of text
"""


def only_value(written: str) -> Node:
    node = parse(f"key: {written}\n", "f.yaml")
    assert isinstance(node, Mapping)
    return node.entries[0][1]


def messages(data: bytes | str) -> list[str]:
    with pytest.raises(Faulty) as caught:
        parse(data, "f.yaml")
    return [str(problem) for problem in caught.value.problems]


class TestKeeps:
    def test_places_count_from_one(self) -> None:
        node = mapping(parse(EXAMPLE, "f.yaml"))
        leaks = node.get("leaks")
        assert leaks is not None
        (leak,) = listing(leaks)
        where = mapping(leak).get("where")
        assert isinstance(where, Scalar)
        assert where.place == Place("f.yaml", 7, 12)
        assert (where.text, where.quoted, where.cut) == ("behind the boiler # 2", True, False)
        assert node.keys() == ("format", "structure", "visits", "leaks")
        assert node.get("nothing") is None

    @pytest.mark.parametrize("written", ["no", "1:30", "0123", "~", "null", "2031-04-16", "1e3"])
    def test_scalars_are_what_was_written(self, written: str) -> None:
        node = only_value(written)
        assert isinstance(node, Scalar)
        assert node.text == written

    @pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
    def test_line_ends_and_the_mark_of_utf8_change_nothing(self, ends: str) -> None:
        data = b"\xef\xbb\xbf" + EXAMPLE.replace("\n", ends).encode()
        assert parse(data, "f.yaml") == parse(EXAMPLE, "f.yaml")

    def test_columns_count_letters_not_bytes(self) -> None:
        node = parse("{größe: 😀, b: c}", "f.yaml")
        assert isinstance(node, Mapping)
        assert node.entries[1][0].place.column == 12

    @pytest.mark.parametrize(
        ("written", "cut"),
        [
            ("a # b", True),
            ("[a, b] # c", False),
            ("'a' # b", False),
            ("a#b", False),
            ("# 12 bolts", True),
            ("a\n  b # c", True),
            ("a", False),
        ],
    )
    def test_a_comment_may_have_cut_a_plain_text(self, written: str, cut: bool) -> None:
        node = only_value(written)
        assert (isinstance(node, Scalar) and node.cut) is cut

    def test_numbers_in_tight_lists_are_no_decimal_commas(self) -> None:
        assert [number(item) for item in listing(only_value("[1,2,3]"))] == [1, 2, 3]
        assert len(listing(only_value("[1, 2 mm]"))) == 2

    def test_the_pure_parser_reads_the_same(self, monkeypatch: pytest.MonkeyPatch) -> None:
        fast = parse(EXAMPLE, "f.yaml")
        monkeypatch.setattr("advisor.terms.document._Loader", __import__("yaml").SafeLoader)
        assert parse(EXAMPLE, "f.yaml") == fast


class TestRefuses:
    @pytest.mark.parametrize(
        ("written", "message"),
        [
            ("", 'f.yaml: the file is empty; expected "key: value" lines'),
            ("# only a comment\n", "f.yaml: the file is empty"),
            ("---\n...\n", "f.yaml: the file is empty"),
            ("a: 1\n---\nb: 2\n", 'f.yaml:2:1: a second document starts here ("---")'),
            ("a: 1\na: 2\n", "f.yaml:2:1: a: this key stands here twice, first on line 1"),
            ("{a: 1, 'a': 2}", "f.yaml:1:8: a: this key stands here twice"),
            ("a: &x 1\nb: *x\n", "f.yaml:1:4: an anchor (&x): put it in quotes"),
            ("a: *x\n", "f.yaml:1:4: an alias (*x): put it in quotes"),
            ("<<: {a: 1}\n", "f.yaml:1:1: a merge key (<<)"),
            ("a: !!python/name:os.system x\n", "f.yaml:1:4: a tag (tag:yaml.org,2002:python/"),
            ("a:\n\tb: 1\n", "f.yaml:2:1: a tab at the start of the line; expected spaces"),
            ("? [a]\n: b\n", "f.yaml:1:3: a list or mapping stands where a key belongs"),
            ("a: [1\n", "f.yaml:1:4: a bracket [ is opened here and never closed"),
            ("a: {b: c\n", "f.yaml:1:4: a brace { is opened here and never closed"),
            ("a: 'x\n", "f.yaml:1:4: a quote is opened here and never closed"),
            ("a: b: c\n", "f.yaml:1:5: a colon where none can stand"),
            ("a: b\n  c: d\n", "f.yaml:2:3: this line stands further in than the line above"),
            ("x:\n  a:b\n  c: d\n", "f.yaml:2:3: a line that is no key with a value"),
            ("x:\n  a = b\n\n  c: d\n", "f.yaml:2:3: a line that is no key with"),
            ("a: ? \n", 'f.yaml:1:4: a text starts with "?"; expected quotes around the text'),
            (
                "a: 'x's y'\n",
                "f.yaml:1:7: text goes on after the closing quote; expected the other",
            ),
            ("a: @x\n", 'f.yaml:1:4: a text starts with "@"; expected quotes around the text'),
            ('a: "\\q"\n', "f.yaml:1:5: a backslash inside double quotes"),
            ("a:\n  b: c\n d: e\n", "f.yaml:3:2: this line does not line up"),
            ("a: - b\n", 'f.yaml:1:4: "- " where no list can start'),
            ("a: {value: 0,3 mm}\n", "f.yaml:1:14: a decimal comma inside brackets or braces"),
            ("a: [0,3 mm]\n", "f.yaml:1:7: a decimal comma inside brackets or braces"),
            ("a: {b:1}\n", "f.yaml:1:5: no space after the colon"),
            ("x\0y", "f.yaml:1:2: an invisible or broken character (U+0000)"),
            ("a: b\nc: \x1b\n", "f.yaml:2:4: an invisible or broken character (U+001B)"),
            ("a: \ud800", "f.yaml:1:4: an invisible or broken character (U+D800)"),
            (b"a: b\nc: d\xe9\n", "f.yaml:2:5: a letter here is not in UTF-8"),
            ("a: b".encode("utf-16"), "f.yaml: the text is saved as UTF-16"),
            ("a: b".encode("utf-16-le"), "f.yaml: the text is saved as UTF-16"),
            ("a: b".encode("utf-16-be"), "f.yaml: the text is saved as UTF-16"),
            (b"a" * (1024 * 1024 + 1), "f.yaml: the file is too large; expected at most 1 MiB"),
            ("[" * 100_000, "f.yaml:1:1001: too many levels in each other; expected at most 20"),
            ("{" * 100_000, "f.yaml:1:1001: too many levels in each other; expected at most 20"),
            ("- " * 1000, "f.yaml:1:41: too many levels in each other; expected at most 20"),
        ],
    )
    def test_with_place_and_plain_words(self, written: bytes | str, message: str) -> None:
        assert messages(written)[0].startswith(message)

    def test_twenty_levels_are_read(self) -> None:
        assert isinstance(parse("[" * 20 + "]" * 20, "f.yaml"), Listing)

    def test_an_alias_bomb_is_never_expanded(self) -> None:
        bomb = "a0: &a0 [x, x]\n" + "".join(
            f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 30)
        )
        assert "an anchor (&a0)" in messages(bomb)[0]

    def test_all_faults_at_once(self) -> None:
        found = messages("a: 1\na: 2\nb: &x 3\nc: {v: 0,3 mm}\nd: !t 4\n")
        assert [line.split(": ")[0] for line in found] == [
            "f.yaml:2:1", "f.yaml:3:4", "f.yaml:4:10", "f.yaml:5:4",
        ]  # fmt: skip

    def test_what_was_gathered_stays_when_the_parser_gives_up(self) -> None:
        assert len(messages("a: 1\na: 2\nb: [\n")) == 2


class TestRead:
    def test_a_file_under_the_name_it_is_given(self, tmp_path: Path) -> None:
        path = tmp_path / "a.yaml"
        path.write_text(EXAMPLE)
        assert read(path, file="f.yaml") == parse(EXAMPLE, "f.yaml")
        assert read(path).place.file == str(path)

    def refused(self, path: Path) -> str:
        with pytest.raises(Faulty) as caught:
            read(path, file="f")
        return str(caught.value)

    def test_what_cannot_be_read(self, tmp_path: Path) -> None:
        assert self.refused(tmp_path / "none") == "f: there is no such file"
        assert self.refused(tmp_path) == "f: this is a folder; expected a file"
        assert self.refused(tmp_path / ("x" * 300)).startswith("f: cannot be read (")
        assert self.refused(tmp_path / "a\0b") == "f: cannot be read (not a file name)"
        (tmp_path / "loop").symlink_to(tmp_path / "loop")
        assert self.refused(tmp_path / "loop").startswith("f: cannot be read (")

    def test_without_permission(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        def deny(*_: object, **__: object) -> None:
            raise PermissionError(13, "Permission denied")

        monkeypatch.setattr(Path, "open", deny)
        assert self.refused(tmp_path / "a") == "f: no permission to read this file"

    def test_fifty_megabytes_are_not_read(self, tmp_path: Path) -> None:
        path = tmp_path / "big.yaml"
        with path.open("wb") as stream:
            stream.truncate(50 * 1024 * 1024)
        assert self.refused(path) == "f: the file is too large; expected at most 1 MiB"

    @pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="no endless device here")
    def test_an_endless_file_ends(self) -> None:
        assert self.refused(Path("/dev/zero")) == "f: the file is too large; expected at most 1 MiB"


class TestFields:
    @pytest.mark.parametrize(
        ("reader", "written", "value"),
        [
            (text, "two words", "two words"),
            (text, "'a # b'", "a # b"),
            (word, "at the joint", "at-the-joint"),
            (word, "joint # comment", "joint"),
            (number, "0,5", 0.5),
            (number, "-2.5e-3 # comment", -0.0025),
            (whole, "0123", 123),
            (yes_no, "yes", True),
            (yes_no, "no", False),
            (day, "2031-04-16", date(2031, 4, 16)),
        ],
    )
    def test_reads(self, reader: object, written: str, value: object) -> None:
        assert callable(reader)
        assert reader(only_value(written)) == value

    @pytest.mark.parametrize(
        ("reader", "written", "message"),
        [
            (text, "pump # 2", 'a comment (" #") may have cut this text: put it in quotes'),
            (text, "# 2", 'a comment (" #") may have cut this text: put it in quotes'),
            (text, "", "nothing is written here; expected text"),
            (text, "[a]", "a list stands here; expected text"),
            (text, "{a: b}", "keys and values stand here; expected text"),
            (word, "At the joint!", '"At the joint!" is no key; expected a word in lower-case '
             'letters, digits and hyphens; did you mean "at-the-joint"?'),
            (number, "nan", '"nan" is no number; expected a number without a unit'),
            (number, "1e999", '"1e999" is no number; expected a number without a unit'),
            (number, "1_000", '"1_000" is no number; expected a number without a unit'),
            (number, "٣", '"٣" is no number; expected a number without a unit'),
            (whole, "1.5", '"1.5" is no whole number; expected a whole number'),
            (whole, "9" * 5000, f'"{"9" * 64}…" is no whole number; expected a whole number'),
            (yes_no, "true", '"true" is neither; expected yes or no; did you mean "yes"?'),
            (yes_no, "No", '"No" is neither; expected yes or no; did you mean "no"?'),
            (day, "2031-02-30", "there is no day 2031-02-30; expected a date as YYYY-MM-DD"),
            (day, "16.4.2031", '"16.4.2031" is no date; expected a date as YYYY-MM-DD; '
             'did you mean "2031-04-16"?'),
            (day, "2031/4/16", '"2031/4/16" is no date; expected a date as YYYY-MM-DD; '
             'did you mean "2031-04-16"?'),
            (day, "4/16/2031", '"4/16/2031" is no date; expected a date as YYYY-MM-DD'),
            (day, "31.2.2031", '"31.2.2031" is no date; expected a date as YYYY-MM-DD'),
            (listing, "a", '"a" stands here; expected a list: [a, b], or lines with "- "'),
            (listing, "{a: b}", "keys and values stand here; expected a list"),
            (mapping, "[a]", 'a list stands here; expected keys with values: "key: value"'),
            (mapping, "", 'nothing is written here; expected keys with values: "key: value"'),
        ],
    )  # fmt: skip
    def test_refuses(self, reader: object, written: str, message: str) -> None:
        assert callable(reader)
        with pytest.raises(Faulty) as caught:
            reader(only_value(written), "key")
        (problem,) = caught.value.problems
        assert (problem.line, problem.column is not None, problem.key) == (1, True, "key")
        assert str(problem).split("key: ", 1)[1].startswith(message)

    def test_only_keys_names_every_unknown_and_missing_key(self) -> None:
        node = mapping(parse("{knd: a, age: b, zzz: c}", "f"))
        with pytest.raises(Faulty) as caught:
            only_keys(node, ("kind", "age", "site"), ("kind", "age", "site"))
        assert [(p.key, p.nearest) for p in caught.value.problems] == [
            ("knd", "kind"), ("zzz", None), ("kind", None), ("site", None),
        ]  # fmt: skip
        only_keys(node, ("knd", "age", "zzz"), ("age",))


READERS = (text, word, number, whole, yes_no, day, listing, mapping)


def read_everything(data: bytes | str) -> None:
    """Parse, and try every accessor on every node; only Faulty may come out."""
    try:
        nodes: list[Node] = [parse(data, "f")]
    except Faulty:
        return
    while nodes:
        node = nodes.pop()
        assert node.place.line >= 1
        assert node.place.column >= 1
        for reader in READERS:
            with suppress(Faulty):
                reader(node)
        if isinstance(node, Listing):
            nodes += node.items
        elif isinstance(node, Mapping):
            for key, value in node.entries:
                nodes += [key, value]


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    read_everything(data)


@given(st.text(alphabet="ab01 \n\t:-#{}[],&*!|>'\"%@?<.\\é", max_size=60))
def test_any_text_of_signs_is_read_or_refused(data: str) -> None:
    read_everything(data)


def mutated(chance: random.Random, data: bytes) -> bytes:
    """`data` with a few slips: bytes lost, doubled, swapped or strange."""
    for _ in range(chance.randint(1, 4)):
        at, to = sorted(chance.randrange(len(data) + 1) for _ in range(2))
        piece = data[at : min(to, at + 20)]
        new = chance.choice(
            [b"", piece * 2, piece[::-1], chance.randbytes(3), chance.choice(SIGNS), b"\n"]
        )
        data = data[:at] + new + data[at + len(piece) :]
    return data


SIGNS = [
    b"\t",
    b": ",
    b"- ",
    b"&a ",
    b"*a",
    b"!!x ",
    b"{",
    b"}",
    b"[",
    b"]",
    b'"',
    b"'",
    b" #",
    b"<<: ",
]


def fuzz(rounds: int, seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(rounds):
        read_everything(mutated(chance, EXAMPLE.encode()))
        read_everything(chance.randbytes(chance.randrange(60)))


def test_slips_in_a_valid_document_are_read_or_refused() -> None:
    fuzz(1000, seed=1)


@pytest.mark.long
def test_many_slips_in_a_valid_document_are_read_or_refused() -> None:
    fuzz(10_000, seed=2)


def test_importing_terms_loads_nothing_heavy() -> None:
    heavy = "{'pydantic', 'numpy', 'typer', 'rich', 'difflib'}"
    code = f"import sys, advisor.terms; print(sorted({heavy} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
