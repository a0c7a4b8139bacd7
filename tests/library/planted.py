"""Identities planted in notes from site. All of them are invented: people, numbers, places.

The identity stands in braces. About half were written before the patterns were.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from tests.library.planted_places import PLACES

_BRACED = re.compile(r"\{([^}]*)\}")


@dataclass(frozen=True, slots=True)
class Planted:
    """telling: what must be gone. private: what stands in the private block beside the note."""

    kind: str
    sentence: str
    telling: tuple[str, ...]
    private: Mapping[str, Any]


def _plant(kind: str, notes: str, private: Mapping[str, Any] | None = None) -> Iterator[Planted]:
    for note in notes.strip().splitlines():
        yield Planted(
            kind, _BRACED.sub(r"\1", note), tuple(_BRACED.findall(note)), dict(private or {})
        )


PLANTED: tuple[Planted, ...] = (
    *_plant(
        "name",
        """
The key is with {Jan Novák}, who let us in.
{NOVAK} says the wall was dry until the rain.
Showed {Novákovi} the crack and the drill holes.
Talked to {Nováka} about the pump in the shaft.
Went down with {Novákem}, he holds the lamp.
{J. Novak} agreed to two rounds of injection.
Agreed on site, {J.N.} and our foreman.
{Novak, Jan} has the drawings at home.
{Nováková} opened the door on the second visit.
Photo from {JanNovak} shows the wet foot.
The cellar of {Novak's} neighbour is dry.
""",
        {"owner": {"name": "Jan Novák"}},
    ),
    *_plant(
        "name",
        """
Let in by {Łukasz Kowalski}, wet at the joint.
{Lukasz} says it drips since spring.
{Lukasz Kowalskiego} cellar, wall foot wet.
We told {Kowalskiemu} to leave the pump on.
Spoke with {Kowalskim} in the yard.
{KOWALSKI ŁUKASZ} signed for the work.
{Ł. Kowalski} wants the proof with the water up.
{Kowalska} holds the key to the tank.
Mould behind the boxes of {Kowalskich} cellar.
One packer was pulled by {Kowalksi} himself.
""",
        {"contact": "Łukasz Kowalski"},
    ),
    *_plant(
        "name",
        """
{Müllers} garage is wet at the ramp.
{Mueller} turned the stopcock off.
{Muller} says the slab was repaired before.
{MÜLLER} on the phone: wet again at the ramp.
{Herr Müller} was there at the flood test.
{B. Mueller} keeps the pump log.
The {Müller'sche} wall is not ours.
{Baerbel} saw it first, left of the door.
{Bärbel Müller} and the caretaker were there.
{Barbel} has photos of the pour.
""",
        {"people": [{"name": "Bärbel Müller", "role": "tenant"}]},
    ),
    *_plant(
        "name",
        """
{Søren} held the hose while we looked.
{Soeren} said the tank was never empty.
{Soren Østergård} gave us the drawings.
{Oestergaard} was told, no work before the release.
{Ostergard} pumps every morning.
Gate code from {S. Østergaard}, he lives beside.
{Østergårds} pit is the lower one.
""",
        {"neighbour": "Søren Østergård"},
    ),
    *_plant(
        "name",
        """
{Garcia's} tank is the upper one.
{José García Núñez} was present at the test.
{Jose} opened the valve too early.
{GARCIA NUNEZ} refused the drilling.
{Nuñez} wants it closed before the feast.
{J. García} reads the gauge on Mondays.
""",
        {"names": ["José García Núñez"]},
    ),
    *_plant(
        "name",
        """
{Anna-Marie O'Brien} runs the pump room.
{Anna Marie} read the gauge for us.
{O’Brien} said the joint was taped once.
{OBRIEN} is written on the shutter.
{Annamarie} closes the valve at night.
{A.-M. O'Brien} signed the sheet.
""",
        {"caretaker": "Anna-Marie O'Brien"},
    ),
    *_plant(
        "name",
        """
{Mr Whitcombe} from next door complains of noise.
{Frau Dr. Lenz} lives above the wet place.
{Mme Delacroix} hears water at night.
{Sig. Bellandi} has the key to the plant room.
{Pan Dvořák} stopped the pump.
{Señora Ibáñez} saw the flood.
Ask {Mrs. Okonkwo-Hale} before drilling.
{Herrn Achterberg} was shown the packers.
{Pani Zielińska} keeps the cellar key.
{Familie Kessler} uses the room beside.
{Ms Jane Q. Doering} saw the water first.
{Dr. med. Ahrens} works above the wet place.
Hausmeister {Krüger} has the key to the shaft.
The key is with tenant {Fairweather} on level two.
The tanking was done by {Brightmoor Sealing Ltd} years ago.
The pump was set by {Zimmerhof Bau GmbH}, no papers.
""",
    ),
    *_plant(
        "phone",
        """
Call {+44 20 7946 0958} before you drill.
Caretaker {(030) 1234567}, after six.
Mobile {0171/1234567}, leave a message.
Tél. {06 12 34 56 78} pour la clef.
Owner at {(212) 555-0173}, mornings only.
Pump firm {+420 601 123 456}, day and night.
Office {91 123 45 67}, ask for the plans.
Ring {020 7946 0123} for the gate.
Key: {601 234 567}, second floor.
Also {+49 (0)89 1234567} in the evening.
Plant room {0049 30 901820}, extension none.
Tenant {07700 900123} works nights.
Neighbour {+33 6 12 34 56 79} saw it.
Alarm line {+48 22 123 45 67} at the door.
Gate {212-555-0142} or wait.
Fire panel {212.555.0187} written on the wall.
Tel: {555-0199} on the sign.
Contact {+31 6 12345678} for the lift.
Contact {+39 06 1234 5678} for the roof.
Handy {0151 23456789} steht am Tor.
Notdienst {089/12345678} kam um acht.
Night watch {+1-212-555-0111} has the lamp.
Number on the lid: {601234567}.
Porter {21 234 5678} knows the valve.
Caretaker again: {01 23 45 67 89}.
""",
    ),
    *_plant(
        "mail",
        """
Send the sheet to {jan.novotny@example.com} please.
Photos from {m.keller+keller@mail.example.org} show it wet.
Plans: {KEY-HOLDER@EXAMPLE.NET}, ask first.
Write {info@stavba-example.cz} for the pour log.
He wrote from {b_schulz (at) example (dot) de} twice.
Copy to {lea.vidal at example dot fr} too.
Bills go to {rechnung@hausverwaltung-beispiel.de}.
Answer from {piet@voorbeeld.example.nl} is missing.
Sent by {zoë.brandt@beispiel.example}, three photos.
Ask {o.hale@tenants.example.co.uk} for the lamp.
""",
    ),
    *_plant(
        "web-address",
        """
Plans at {https://files.example.com/u/novotny/house7.pdf} to look at.
See {www.hausverwaltung-beispiel.de} for the opening hours.
The firm is {brightmoor-sealing.co.uk} on the van.
Photos: {http://192.0.2.7/cam/garage} of the ramp.
She posts as {@leakywall_lea} about it.
Gauge online at {pegel-beispiel.example.org/station/7}.
""",
    ),
    *_plant(
        "plate",
        """
White van {M-AB 1234} parked on the chamber lid.
Tanker {AB12 CDE} came twice.
Pump truck {AB-123-CD} at the ramp.
The car {1234 BCD} stands over the wet place.
Van {12-ABC-3} blocks the shaft.
Mixer {WA 12345} came late at the pour.
Trailer {1AK 2345} with the compressor.
Delivered by {W-12345 X} in the morning.
Truck {ZH 123456} hit the column.
Red car {AB 123 CD} is always on space 4.
Lorry {KR 8AT12} broke the kerb.
Digger {WPI 4421K} stood on the slab.
Trailer {VD 412 889} with the drums.
Number plate {7XYZ123}, oil under it.
Kennzeichen {HH-ZZ 77}, steht auf der Fuge.
""",
    ),
    *(one for kind, notes, private in PLACES for one in _plant(kind, notes, private)),
)
