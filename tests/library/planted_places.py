"""More planted identities: places, numbers and days. Kind, notes, private block; all invented."""

from typing import Any

PLACES: tuple[tuple[str, str, dict[str, Any]], ...] = (
    (
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
Manhole {33U 0458321 5549876} from the list.
Spring at {geo:47.3769,8.5417} above the wall.
""",
        {},
    ),
    (
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
Go through {alei Solidarności 12} to the pit.
Wet again in {Vinohradské 45} after rain.
Water from {Mühlenweg 9} runs to us.
The cellar at {9 St. Andrew's Terrace} is joined to it.
""",
        {},
    ),
    (
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
Vault in {20121 Milano (MI)}, dry.
Garage in {CH-8001 Zürich}, ramp wet.
Shaft in {75011 Paris}, lowest level.
""",
        {},
    ),
    (
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
        {},
    ),
    (
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
        {},
    ),
    (
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
    (
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
    (
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
