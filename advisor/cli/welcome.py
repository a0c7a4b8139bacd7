"""The short help. A text of its own, so that it stands there before anything is loaded."""

from typing import Final

WELCOME: Final = """\
Usage: advisor COMMAND [OPTIONS]

Write down what you find at a wet place in concrete. Read
which causes fit, what speaks for and against each, and
what to look at next.

Commands
  assess FILE...       the causes of each wet place, and why
  plan FILE            the repair sheet of each wet place
  log FILE             what was done, confirmed, seen later
  due PATH...          where records stand, looks due
  library add FILE...  keep cases, without people and places
  library find         list cases; show, forget, hold one
  library similar FILE the past places most like one of now
  library facts        what really held, and for how long
  library export FILE  cases out; import and backfill, in
  library demo         invented cases, for trying out
  knowledge check      faults and remarks of the knowledge
  knowledge list       all causes, attributes, looks, stops
  knowledge show KEY   one entry, with its reasons
  cases check          how well worked cases are answered
  work-out             a sum by hand: dew point, crack flow
  schema               the form of a callout file

Options
  --no-color           no colour, also with NO_COLOR set
  --version            print the version
  --help               this help; COMMAND --help tells more

Examples
  advisor assess callout.yaml
  advisor assess callout.yaml --leak L1 --reasons
  advisor assess *.yaml --json > result.json
  advisor knowledge show wall-foot-joint
  advisor work-out crack-flow --help
  advisor log callout.yaml --set looked=tight
"""
