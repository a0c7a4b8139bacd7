"""Identities planted in notes from site. All of them are invented: people, numbers, places.

The identity stands in braces. About half were written before the patterns were.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

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
Number plate {7XYZ123}, oil under it.
Kennzeichen {HH-ZZ 77}, steht auf der Fuge.
""",
    ),
    *_plant(
        "coordinates",
        """
Shaft at {48.13743, 11.57549}, lid is loose.
Spot marked at {N 48.1374 E 11.5755} on the sketch.
The wet place is at {48°08'14.7"N 11°34'31.8"E} below the ramp.
Sea wall at {52° 22.5' N, 4° 53.9' E}, wet at the step.
UTM {33U 458321 5549876} by the hand set.
Pit at {Rechtswert 4468503} by the old plan.
Pin is {https://maps.example.com/?q=50.0875,14.4213} in the message.
Photo says {lat: 50.0875} and not more.
Chamber {TQ 30080 80480} on the owner's sheet.
Tank at {-33.8568; 151.2153} as the photo says.
Box {9F4M3GQ9+7X} on the door.
Spring at {geo:47.3769,8.5417} above the wall.
""",
    ),
    *_plant(
        "street-address",
        """
Garage of {14 Elmcroft Road}, wet at the ramp.
Wet wall towards {Bahnhofstraße 12a} only.
Meter in {Lindenstr. 7} was read.
Key at {Berliner Straße 112} in the shop.
The drain runs below {Am Alten Markt 3} and is blocked.
Cave mouillée, {12 bis rue de la Fontaine}, mur nord.
Tank below {avenue Jean Moulin} is empty.
Valve at {Calle de los Olmos 23} is stuck.
Pump room of {Via Giuseppe Verdi 18}, dry now.
Pit at {Piazza Garibaldi 4} is full.
Wet again at {Keizersgracht 210} after rain.
Cellar of {Dorpsstraat 5b} pumped out.
Slab of {ul. Kwiatowa 17/3} wet at the foot.
Leak at {al. Jana Pawła 22} was the drain.
Wall of {Křižíkova 34} wet to the knee.
House {Dlouhá 731/12} has the same slab.
Bill to {P.O. Box 4410} please.
Ramp of {7 harbour view lane} is wet.
Look also at {22 Tannery Court}, same pour.
Water from {Mühlenweg 9} runs to us.
The cellar at {9 St. Andrew's Terrace} is joined to it.
""",
    ),
    *_plant(
        "postcode-and-town",
        """
Site in {80331 München}, third level down.
Tank in {SW1A 1AA} is the wet one.
Plant in {00-950 Warszawa} has the same joint.
Garage in {110 00 Praha 1}, two levels.
Pit in {1010 Wien}, below the yard.
Cellar in {1012 AB Amsterdam}, one level.
Pool in {28013 Madrid}, upper basin.
Hall near {Springfield, IL 62704}, slab wet.
Garage in {CH-8001 Zürich}, ramp wet.
Shaft in {75011 Paris}, lowest level.
""",
    ),
    *_plant(
        "account",
        """
Refund to {DE89 3704 0044 0532 0130 00} was asked.
Pay to {GB29NWBK60161331926819} he says.
Account {FR14 2004 1010 0505 0001 3M02 606} on the letter.
Owner wrote {PL61109010140000071219812874} on the lid.
Deposit to {NL91 ABNA 0417 1643 00} came.
Also {es9121000418450200051332} in the mail.
Account {19-2000145399/0800} is the owner's.
Policy no. {HP-2031-778812} covers the slab, he says.
Claim {CL/2031/004417} is open.
Schadennummer {S-7744-2031-9} steht am Tor.
Contract {WU-310416-77} was shown.
Card {4111 1111 1111 1111} lay on the sill.
Meter no. {20457781} stands still.
Police Nr. {88.442.190-3} liegt vor.
Number {856312/7741} on his letter.
""",
    ),
    *_plant(
        "date",
        """
Seen on {2031-04-16} for the first time.
Wet since {16.04.2031}, dry before.
Test on {04/16/2031}, level fell.
Poured {16 April 2031} in the rain.
Pump failed on {3rd of May 2031} at night.
Am {3. März 2031} stand das Wasser hoch.
Vu le {12 juillet 2031} avec la pompe.
Byli tam {7. září 2031} po dešti.
Zalane {5 kwietnia 2031} po burzy.
Flooded {Dec 24, 2031} at the door.
""",
    ),
    *_plant(
        "street-address",
        """
Wet place in {Rosengarten 7}, second room.
The {Rosengarten} side is dry.
{ROSENGARTEN 7} is on the pump too.
{Main Street 5} has water in the shaft.
It is the corner house, {5 Main Street}, they said.
Water main below {main street} is old.
{Kastanienhof} yard floods in rain.
""",
        {"address": {"street": "Rosengarten 7", "second": ["Main Street 5", "Kastanienhof 2"]}},
    ),
    *_plant(
        "number",
        """
His number {0171 5550123} is on the door.
Also reached at {+49 171 5550123} at night.
The file {K-31-77a} lies in the office.
Job {K 31 77A} was the first one.
Ring bell {4711-B} at the gate.
""",
        {"phone": "+49 171 5550123", "contract": "K-31-77a", "bell": "4711-B"},
    ),
    *_plant(
        "name",
        """
{Brno} garage, level two, wet at the ramp.
The {Talavera} pit is dry.
{Talavera Homes} did the flood test.
{Ng} opened the hatch for us.
{Stone} closed the valve himself.
{Abdel-Rahman} speaks for the tenants.
{abdelrahman} wrote on the lid.
{Gary Stone} held the lamp.
{Vandenberghe's} note says dry.
{Vandenberge} was on leave.
{Ştefănescu} poured the slab.
{Stefanescu} has the pour log.
{Stefănescului} garage is beside.
""",
        {
            "town": "Brno",
            "manager": "Talavera Homes Ltd",
            "people": ["Li Ng", "Gary Stone", "Omar Abdel-Rahman", "Vandenberghe", "Ştefănescu"],
        },
    ),
)
