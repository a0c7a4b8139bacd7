"""Tables that are wrong in one way each, and what is told. All of it is invented.

PLAIN and OWN are what the good table and the good export look like. Each entry is (what is wrong,
data, what is told).
"""

from typing import Final

from advisor.library.moves.csv_out import csv_lines
from tests.library.firm_table import TABLE, read

PLAIN: Final = "case,place,kind,date,method,done,look-1,look-1-state\n"
ROW: Final = "A,1,basement,2031-04-16,bonded-strip,2031-04-20,2031-05-20,tight\n"
OWN: Final = "".join(csv_lines(read().cases))
TOKEN: Final = read().cases[0].case


def _plain(old: str, new: str) -> bytes:
    assert old in PLAIN + ROW
    return (PLAIN + ROW.replace(old, new)).encode()


def _header(old: str, new: str) -> bytes:
    assert old in PLAIN
    return (PLAIN.replace(old, new) + ROW).encode()


def _own(old: str, new: str, times: int = -1) -> bytes:
    assert old in OWN
    return OWN.replace(old, new, times).encode()


Tables = tuple[tuple[str, bytes, str], ...]

NOTHING_TAKEN: Final[Tables] = (
    ("nothing", b"", "the file is empty"),
    ("only a byte order mark", b"\xef\xbb\xbf", "the file is empty"),
    ("only blanks", b" \n,,,\n\n", "the file is empty"),
    ("header and no rows", PLAIN.encode(), "no rows below the header"),
    ("header and empty rows", (PLAIN + ",,,,,,,\n" * 3).encode(), "no rows below the header"),
    ("UTF-16", (PLAIN + ROW).encode("utf-16"), "the text is saved as UTF-16"),
    ("UTF-16 without mark", (PLAIN + ROW).encode("utf-16-le"), "the text is saved as UTF-16"),
    ("Windows letters", TABLE.encode("cp1252"), "f.csv:2: a letter in this row is not in UTF-8"),
    ("a broken letter", _plain("A,", "A\xff,").replace(b"\xc3\xbf", b"\xc3"), "f.csv:2: a letter"),
    ("a workbook", b"PK\x03\x04" + b"x" * 50, "this is a workbook"),
    ("a database", b"SQLite format 3\0" + b"x" * 50, "this is a database"),
    ("a PDF", b"%PDF-1.7\n...", "this is a PDF"),
    ("compressed", b"\x1f\x8b\x08\x00abc", "this is a compressed file"),
    ("JSON", b'{"format": 1, "cases": []}', "this is JSON"),
    ("JSON Lines", b'\n{"format":1,"case":"00"}\n{"format":1}\n', "this is JSON"),
    ("a JSON list", b'[{"case": "A", "kind": "tank"}]', "this is JSON"),
    ("a zero byte", _plain("basement", "base\0ment"), "f.csv:2: a zero byte"),
    ("a quote never closed", _plain("basement", '"basement'), "f.csv:2: a quote is opened"),
    ("a quote in the header", _header("place", '"place'), "f.csv:1: a quote is opened"),
    ("text behind a quote", _plain("basement", '"base"ment'), "f.csv:2: text goes on after"),
    ("a cell that is a whole book", _plain("A,", '"' + "x" * 200_000 + '",'), "f.csv:2: "),
    ("one column", b"case\nA\n", "f.csv:1: the header has one column"),
    ("two delimiters", b"case;kind,place\nA;tank,1\n", "f.csv:1: two signs could part"),
    ("a nameless column", _header("place", ""), "f.csv:1:2: this column has no name"),
    ("a name twice", _header("place", "kind"), "f.csv:1:3: kind: column 2 has the same name"),
    ("an odd name", _header("place", "pla\x07ce"), "f.csv:1:2: the name of this column"),
    ("600 columns", (",".join(f"c{n}" for n in range(600)) + "\n").encode(), "600 columns"),
    ("a misspelt column", _header("kind", "knid"), 'did you mean "kind"?'),
    ("an unknown column", _header("place", "owner"), "owner: this column is neither mapped nor"),
    ("no case", _header("case", "quarter"), "case: no column is mapped to this"),
    ("no kind", _header("kind", "status"), "kind: no column is mapped to this"),
    ("findings without a key", _header("place", "finding."), "neither mapped nor left out"),
    ("a formula as header", _header("place", "=1+1"), "neither mapped nor left out"),
    ("a later version", _own("\n1,", "\n2,"), "a later version of the advisor wrote this"),
    ("a later version, one row", _own("\n1,", "\n7,", 1), "(format 7)"),
    ("own, a column unknown", _own("visits", "vsits"), 'did you mean "visits"?'),
    ("own, without case", _own(",case,", ",visits2,"), "case: this column is missing"),
)
"""What leaves nothing to go on with."""

ROWS_REFUSED: Final[Tables] = (
    ("a cell too many", _plain("tight", "tight,"), "f.csv:2: 9 cells, the header has 8"),
    ("a cell too few", _plain(",tight", ""), "f.csv:2: 7 cells, the header has 8"),
    ("a huge cell", _plain("basement", "x" * 4001), "f.csv:2:3: kind: a cell of 4001 letters"),
    (
        "a bell",
        _plain("basement", "base\x07ment"),
        "kind: an invisible or broken character (U+0007)",
    ),
    ("a line separator", _plain("basement", "base\u2028ment"), "(U+2028)"),
    ("a formula", _plain("basement", "=1+1"), 'kind: "=1+1" is none of its words'),
    ("a link", _plain("basement", '"=HYPERLINK(""http://x"")"'), "is none of its words"),
    ("a command", _plain("basement", "@SUM(A1:A9)"), "is none of its words"),
    ("a marked formula", _plain("basement", "'=1+1"), '"=1+1" is none of its words'),
    ("a pipe", _plain("bonded-strip", "=cmd|' /C calc'!A0"), "is none of its words"),
    ("a free text", _plain("bonded-strip", "Frau Erfunden rang"), "is none of its words"),
    ("a capital", _plain("basement", "Basement"), 'did you mean "basement"?'),
    ("no case in a row", _plain("A,", ","), "f.csv:2:1: case: nothing is written here"),
    ("no kind in a row", _plain("basement", ""), "f.csv:2:3: kind: nothing is written here"),
    ("an unknown case", _plain("A,", "unknown,"), "case: nothing is written here"),
    ("place 0", _plain(",1,", ",0,"), 'place: "0" cannot be; expected a whole number, 1 to 1000'),
    ("place -1", _plain(",1,", ",-1,"), 'place: "-1" cannot be'),
    ("place 1.5", _plain(",1,", ",1.5,"), 'place: "1.5" cannot be'),
    ("place ²", _plain(",1,", ",²,"), 'place: "²" cannot be'),
    ("a place in words", _plain(",1,", ",L1,"), 'place: "L1" cannot be'),
    ("a place of many digits", _plain(",1,", f",{'9' * 3000},"), "place: "),
    ("no such day", _plain("2031-04-16", "2031-02-30"), "date: there is no day 2031-02-30"),
    ("month 13", _plain("2031-04-16", "2031-13-01"), "there is no day 2031-13-01"),
    ("the year 0", _plain("2031-04-16", "0000-01-01"), "there is no day 0000-01-01"),
    ("other dates", _plain("2031-04-16", "16.04.2031"), "the mapping may say dates: DD.MM.YYYY"),
    ("American dates", _plain("2031-04-16", "04/16/2031"), "may say dates: MM/DD/YYYY"),
    ("two digits of a year", _plain("2031-04-16", "31-04-16"), 'date: "31-04-16" is no date here'),
    ("a serial number", _plain("2031-04-16", "47954"), 'date: "47954" is no date here'),
    ("other digits", _plain("2031-04-16", "٢٠٣١-٠٤-١٦"), "is no date here"),
    (
        "a look before the repair",
        _plain("2031-05-20", "2031-04-18"),
        "look-1: 2 days before the repair",
    ),
    (
        "a repair before the visit",
        _plain("2031-04-20", "2031-04-01"),
        "15 days before the first visit",
    ),
    ("a look in another age", _plain("2031-05-20", "2931-05-20"), "days after the first visit"),
    ("a look without a state", _plain("tight", ""), "look-1-state: a look without what it showed"),
    ("a state without a look", _plain("2031-05-20", ""), "look-1: a look without its day"),
    ("a repair without a day", _plain("2031-04-20", ""), "done: methods: 1, days of repair: 0"),
    ("a day without a method", _plain("bonded-strip", ""), "method: a repair without its method"),
    ("two methods, one day", _plain("bonded-strip", "bonded-strip; tie-hole-plug"), "methods: 2"),
    (
        "a place twice",
        (PLAIN + ROW * 2).encode(),
        "f.csv:3:2: place: place 1 of this case stands in row 2 too",
    ),
    (
        "a second kind",
        (PLAIN + ROW + ROW.replace(",1,base", ",2,base").replace("basement", "tank")).encode(),
        "f.csv:3:3: kind: row 2 of this case says something else",
    ),
    (
        "a negative day",
        b"case,kind,method,done-day\nA,tank,bonded-strip,-3\n",
        'done-day: "-3" cannot be',
    ),
    (
        "days and dates",
        b"case,kind,method,done-day,look-1,look-1-state\nA,tank,bonded-strip,3,2031-05-01,tight\n",
        "no date of it",
    ),
    (
        "a cause, and not how",
        b"case,kind,cause\nA,tank,cold-joint\n",
        "confirmed-how: how the cause was confirmed is missing",
    ),
    (
        "a repair that held as proof",
        b"case,kind,cause,confirmed-how\nA,tank,cold-joint,held\n",
        '"held" is none of its words',
    ),
    (
        "contributors alone",
        b"case,kind,contributors\nA,tank,risen-water\n",
        "contributors without a cause",
    ),
    (
        "closed, and not why",
        b"case,kind,status\nA,tank,closed\n",
        "closed-because: closed, and why is missing",
    ),
    (
        "why, and not closed",
        b"case,kind,status,closed-because\nA,tank,watching,held\n",
        "status: watching, with a reason",
    ),
    (
        "a quarter in words",
        b"case,kind,quarter\nA,tank,Q2 2031\n",
        'quarter: "Q2 2031" is no quarter',
    ),
    (
        "a number without unit",
        b"case,kind,finding.crack-width\nA,tank,0.3\n",
        "finding.crack-width: ",
    ),
    (
        "a number of another kind",
        b"case,kind,finding.crack-width\nA,tank,3 kg\n",
        "finding.crack-width: ",
    ),
    ("a negative width", b"case,kind,finding.crack-width\nA,tank,-3 mm\n", "finding.crack-width: "),
    ("broken brackets", b'case,kind,finding.deposits\nA,tank,"[lime, "\n', "finding.deposits: "),
    (
        "brackets without end",
        f"case,kind,finding.deposits\nA,tank,{'[' * 3000}\n".encode(),
        "finding.deposits: ",
    ),
    ("a tag in brackets", b'case,kind,finding.deposits\nA,tank,"[!!python/object x]"\n', "a tag"),
    ("own, no token", _own(TOKEN, "A-17"), 'case: "A-17" is no token of a case'),
    ("own, a token in capitals", _own(TOKEN, TOKEN.upper()), "is no token of a case"),
    ("own, a version that is none", _own("\n1,", "\nx,", 1), 'library-format: "x" cannot be'),
    ("own, a broken look", _own("30:tight:yes", "30:tight:maybe"), '"30:tight:maybe" is no look'),
    ("own, a look in another age", _own("30:tight:yes", "99999:tight:yes"), "is no look"),
    ("own, a day too far", _own("30:tight:yes", "79000:tight:yes"), "too far from the first visit"),
    (
        "own, looks after no repair",
        _own("30:tight:yes", "30:tight:yes; 1:tight:yes"),
        "looks after 2 repairs",
    ),
    ("own, a finding unknown", _own("kind=basement", "knid=basement"), 'did you mean "kind"?'),
    ("own, a finding without value", _own("kind=basement", "basement"), "findings: no finding"),
    ("own, a formula as finding", _own("kind=basement", "'=1+1=2"), "findings: "),
    ("own, a long finding", _own("kind=basement", f"kind={'x' * 300}"), "a finding of 300 letters"),
    ("own, neither yes nor no", _own(",no,2031", ",nein,2031", 1), "invented: "),
)
"""What leaves the other rows as they are."""

GOOD: Final = (TABLE.encode(), (PLAIN + ROW).encode(), OWN.encode())
