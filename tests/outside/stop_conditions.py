"""The conditions under which work must stop, each with where it was printed.

They are those of the project's sheet on safety, told in other words: (condition, source and
whether that page was seen, is known from print only, or is a rule of the trade) and the ways to
raise the stop. All callouts are invented.
"""

from tests.outside.stop_case import NEITHER, OPEN, Case, door, of_several, one

CRACK = {"crack-visible": "yes"}
NET = {**CRACK, "crack-form": "map"}
DECK = {"kind": "podium-deck"}
TUNNEL = {"kind": "tunnel"}
WALL = {"kind": "retaining-wall"}
DRINKING = {"kind": "drinking-water-reservoir"}
INFILL = {"movement-signs": "[infill-cracks]"}
RUST = {"deposits": "[rust]"}
ACID_GROUND = {"water-attacks-concrete": "sulfate"}

CONDITIONS: dict[tuple[str, str], list[Case]] = {
    # Water and ground.
    ("inflow carries soil, is cloudy, leaves a cone", "flood-fight guide 2003, seen"): [
        door("brown-water", "ground-signs", "brown-water"),
        one("soil-in-the-water", "deposits", ("[silt]", "[]"), NEITHER),
        one(
            "soil-in-the-water", "deposits", ("[silt]", "[lime]"), OPEN, {"water-looks": "[cloudy]"}
        ),
    ],
    ("flow jumps with no rise of head or rain", "FEMA 484, seen"): [
        one("flow-jumped", "flow-jump", ("jumped", "none"), OPEN, {"wetness": "runs"}),
    ],
    ("seep or drain stops at once, head as before", "FEMA 484, seen; blockage from memory"): [
        one("flow-fell", "flow-jump", ("fell", "none"), OPEN, {"drain": "blocked"}),
        one("flow-fell", "flow-jump", ("fell", "none"), NEITHER),
    ],
    ("sinkhole, dip, hollow paving, void, whirlpool", "city page on sinkholes, seen"): [
        door("sunken-ground", "ground-signs", "sunken-ground"),
    ],
    ("dam, levee, impounding reservoir", "FEMA 64 and FEMA 484, seen"): [
        door("dam-or-levee", "dam-or-levee", "yes"),
        one("dam", "kind", ("dam", "tank"), NEITHER),
    ],
    ("wall tilts, bulges, steps; ground cracked; weep holes dry", "Ecology page, seen"): [
        door("bulging-wall", "danger-signs", "bulge"),
        *of_several(
            "earth-pushes",
            "held-earth-signs",
            "ground-cracks dry-weep-holes joint-steps",
            OPEN,
            WALL,
        ),
    ],
    ("floor heaves, joints open upward, tank shifts", "FEMA flood releases, seen"): [
        door("heaving-floor", "danger-signs", "heave"),
    ],
    ("plan to close weep holes, drains, relief", "Ecology page, seen"): [
        one("relief-would-be-closed", "closes-relief", ("yes", "no"), OPEN, {"drain": "runs-free"}),
        one("relief-would-be-closed", "closes-relief", ("yes", "no"), OPEN, WALL),
        Case("relief-would-be-closed", {"closes-relief": "yes"}, {}, NEITHER),
    ],
    ("steady in drought, warm, chlorinated, fluoridated, hiss", "rule of the trade"): [
        one("burst-main", "hiss-at-a-pipe", ("yes", "no"), NEITHER),
        one("burst-main", "chlorine", ("found", "not-found"), NEITHER),
        one(
            "burst-main",
            "fluoride",
            ("like-the-tap", "far-below-the-tap"),
            NEITHER,
            {"fluoride-in-ground": "no"},
        ),
        one("burst-main", "meter-test", ("creeps", "stands-still"), NEITHER),
        one(
            "burst-main",
            "water-looks",
            ("[warm]", "[]"),
            NEITHER,
            {"flow-over-time": "constant", "stops-in-dry-weather": "no"},
        ),
    ],
    ("water at switchgear, lift pit, batteries, cables", "Ontario labour ministry, seen"): [
        door("water-near-power", "electrics-near", "yes"),
    ],
    ("smell of fuel, solvent, gas or sewage; alarm", "limits of closed spaces, seen"): [
        door("smell-of-gas-or-fuel", "smells", "gas-or-fuel"),
        door("smell-of-sewage", "smells", "sewage"),
    ],
    ("jet or rubble from a hole, packer lifts", "worked out from the head"): [
        door("jet-of-water", "water-out-of-hand", "jet"),
    ],
    ("chlorine or acid fumes at pool plant", "fire-service list, seen"): [
        door("chlorine-fumes", "smells", "chlorine"),
    ],
    ("drinking water: inflow, sewage near, material", "drinking-water rules, seen"): of_several(
        "drinking-water-at-risk",
        "drinking-water-signs",
        "inflow sewage-near unapproved-material",
        OPEN,
        DRINKING,
    ),
    # Structure.
    ("cracking noise, dust, doors that jam within hours", "rule of the trade"): [
        door("noise-or-dust", "danger-signs", "noise"),
    ],
    ("step across a crack or joint", "EM 1110-2-2002, title seen"): [
        door("fresh-step", "danger-signs", "fresh-step"),
        one("step-at-a-crack", "step-across-crack", ("step", "no-step"), OPEN, CRACK),
    ],
    ("over 0.3 mm through the section; over 1.3 mm anywhere", "0.3 seen, 1.27 from memory"): [
        one(
            "wide-through-crack",
            "crack-width",
            ("0.35 mm", "0.3 mm"),
            OPEN,
            {**CRACK, "crack-both-faces": "yes"},
        ),
        one(
            "wide-through-crack",
            "crack-both-faces",
            ("yes", "no"),
            OPEN,
            {**CRACK, "crack-width": "0.35 mm"},
        ),
        one("very-wide-crack", "crack-width", ("1.4 mm", "1.2 mm"), OPEN, CRACK),
    ],
    ("masonry cracked in class 3, 4, 5", "BRE Digest 251, seen; urgency our own"): [
        one(stop, "masonry-cracks", (wide, "slight"), OPEN, INFILL)
        for stop, wide in (
            ("masonry-moderate", "moderate"),
            ("masonry-severe", "severe"),
            ("masonry-very-severe", "very-severe"),
        )
    ],
    ("crack grows by 0.1 mm, or new cracks", "BRE Digest 343, seen; trigger our own"): [
        one(
            "growing-crack",
            "crack-width",
            (
                "[{value: 0.2 mm, date: 2031-01-10}, {value: 0.35 mm, visit: 1}]",
                "[{value: 0.2 mm, date: 2031-01-10}, {value: 0.2 mm, visit: 1}]",
            ),
            NEITHER,
            CRACK,
        ),
        one("growing-crack", "step-grows", ("yes", "no"), NEITHER, CRACK),
        one("growing-crack", "width-trend", ("steady-growth", "stable"), NEITHER, CRACK),
        one("growing-crack", "movement-signs", ("[new-cracks]", "[]"), NEITHER),
    ],
    ("slanting crack near a support, split at a bearing", "from memory"): [
        door("cracked-support", "danger-signs", "cracked-support"),
        one(
            "slanting-crack-at-support",
            "crack-form",
            ("slanting-at-support", "vertical-mid-bay"),
            OPEN,
            {**CRACK, "member": "column-or-beam"},
        ),
    ],
    ("flat slab or deck: cracks, sag, leaks at columns, load", "HSE E005:04, seen"): [
        one(
            "cracks-round-a-column",
            "crack-form",
            ("round-a-column", "map"),
            OPEN,
            {**CRACK, "member": "ceiling"},
        ),
        *of_several(
            "deck-over-people",
            "deck-signs",
            "wet-column-heads rusty-drips deeper-ponds added-load",
            OPEN,
            DECK,
        ),
        *of_several(
            "deck-over-people",
            "deck-signs",
            "wet-column-heads",
            OPEN,
            {"kind": "underground-car-park", "member": "ceiling"},
        ),
        *of_several("deck-over-people", "deck-signs", "added-load", NEITHER, {"member": "wall"}),
    ],
    ("sag, tilt, sloping floor, bearing lost", "BRE Digest 251, seen"): [
        door("sagging-slab", "danger-signs", "sag"),
        one("sloping-floor", "movement-signs", ("[floor-slopes]", "[]"), NEITHER),
    ],
    ("rust with lost cover, bars exposed, loose overhead", "ETH scale, seen"): [
        door("loose-overhead", "danger-signs", "loose-overhead"),
        *(
            one(stop, "steel-showing", (seen, "none"), OPEN, RUST)
            for stop, seen in (
                ("rust-stain", "stain-only"),
                ("rusting-steel", "spalled"),
                ("many-bars-showing", "many-bars"),
            )
        ),
    ],
    ("prestressed, post-tensioned, anchor head", "DMRB CS 465, seen; anchors of the trade"): [
        one("tensioned-part", "tensioned", ("yes", "no"), OPEN),
        one("tensioned-part", "tensioned", ("yes", "no"), NEITHER, {"kind": "lift-pit"}),
        one(
            "tensioned-part",
            "tensioned",
            ("yes", "no"),
            OPEN,
            {"kind": "lift-pit", "anchors-or-piles": "yes"},
        ),
    ],
    ("planks of light aerated concrete", "HSE and SCOSS 2023, seen in summaries"): [
        one(
            "light-planks",
            "light-planks",
            ("yes", "no"),
            OPEN,
            {"member": "ceiling", "precast-parts": "yes"},
        ),
        Case("light-planks", {"light-planks": "yes"}, {}, NEITHER, {"member": "wall"}),
    ],
    ("tunnel or culvert lining bulges, drummy, falls, moved", "US tunnel standards, seen"): [
        *of_several(
            "lining-falls", "lining-signs", "bulge drummy rock-or-soil displaced", OPEN, TUNNEL
        ),
        Case("lining-falls", {**TUNNEL, "lining-signs": "[bulge]"}, {}, NEITHER),
    ],
    ("map cracking, gel, joints shut, parts shifted", "FHWA-HIF-12-022, seen"): [
        one("swelling-concrete", "crack-form", ("map", "vertical-mid-bay"), NEITHER, CRACK),
        one("swelling-concrete", "petrography", ("reaction", "no-damage"), NEITHER),
        *of_several(
            "swelling-concrete", "expansion-signs", "gel joints-closed parts-displaced", NEITHER, {}
        ),
    ],
    ("thick or heat-cured, over 70 °C, late map cracks", "Taylor and others 2001, seen"): [
        one(
            "late-swelling",
            "peak-heat",
            ("78 °C", "62 °C"),
            OPEN,
            {**NET, "wall-thickness": "1500 mm"},
        ),
        one("late-swelling", "peak-heat", ("78 °C", "62 °C"), NEITHER, NET),
    ],
    ("soft or scaling face, sulfate or acid ground, sewer crown", "EM 1110-2-2002, seen"): [
        one(
            "eaten-concrete",
            "face-of-the-concrete",
            ("rough-softened", "dense-smooth"),
            NEITHER,
            {"kind": "culvert"},
        ),
        one(
            "eaten-concrete", "face-of-the-concrete", ("flaking", "dense-smooth"), OPEN, ACID_GROUND
        ),
    ],
    ("fire, soot, pink tint, crazed or soft face", "Concrete Society TR 68, seen"): [
        one(
            "after-a-fire",
            "events-before",
            ("[fire]", "[]"),
            OPEN,
            {"face-of-the-concrete": "flaking"},
        ),
    ],
    ("blow, blast, earthquake, flood; works next door", "page on monitoring, seen"): [
        *of_several("after-a-blow", "events-before", "blow earthquake flood", OPEN, INFILL),
        Case("works-nearby-before-it", {"began-with": "works-nearby"}, {}, NEITHER),
        one("works-nearby-before-it", "movement-signs", ("[works-nearby]", "[]"), NEITHER),
    ],
    ("cuts bars, chases deep, takes out concrete, digs", "HSE lessons of 1997, seen"): [
        *of_several("cuts-the-structure", "work-cuts", "bars deeper-than-cover area", OPEN, {}),
        *of_several("digs-beside-the-wall", "work-cuts", "ground-beside", OPEN, {}),
    ],
    ("ceiling, lining or sheet that holds water", "rule of the trade"): [
        door("hanging-water", "danger-signs", "hanging-water"),
    ],
    ("asbestos, PCB or tar where drilling is due", "netregs and HSG264, seen"): [
        one("old-materials", "old-materials", ("suspected", "none-found"), OPEN),
        one(
            "old-materials",
            "old-materials",
            ("suspected", "none-found"),
            OPEN,
            {"pour-date": "1974-05-01"},
        ),
        Case(
            "old-materials",
            {"pour-date": "1974-05-01", "old-materials": "suspected"},
            {"pour-date": "2029-05-01"},
            OPEN,
        ),
    ],
    ("two failed repairs at a spot, or the leak moves on", "rule of the trade"): [
        one("twice-failed-repair", "failed-repairs", ("2", "1"), OPEN, {"repaired-before": "yes"}),
        one("twice-failed-repair", "failed-repairs", ("2", "0"), NEITHER),
        one("leak-moved-on", "old-repair-here", ("moved-along", "beside-it"), NEITHER),
    ],
    ("new cracks, more water, stray resin while injecting", "limits of pressure"): of_several(
        "injection-goes-wrong",
        "while-injecting",
        "new-cracks more-flow resin-elsewhere",
        NEITHER,
        {},
    ),
}

BESIDES: dict[tuple[str, str], list[Case]] = {
    ("someone hurt or below", "asked at every door"): [
        door("people-in-danger", "people-in-danger", "yes"),
    ],
    ("water rises faster than it can be pumped", "asked at every door"): [
        door("rising-water", "water-out-of-hand", "rising"),
    ],
    ("a closed space must be entered", "rules of closed spaces, seen"): [
        door("space-to-enter", "space-to-enter", "yes"),
    ],
    ("tendons or services in the way", "scan before drilling, from memory"): [
        one(
            "something-in-the-way",
            "steel-scan",
            ("tendons-or-services-found", "clear-spots-marked"),
            OPEN,
        ),
    ],
    ("horizontal crack at half height of an earth wall", "sheet of causes"): [
        one(
            "crack-at-half-height",
            "crack-form",
            ("horizontal-mid-height", "vertical-mid-bay"),
            NEITHER,
            CRACK,
        ),
    ],
    ("an emptied tank floats", "engineers' bulletin on a pool, seen"): [
        Case(
            "may-float",
            {"head-against-allowed": "1.2", "head-under-base": "1 m"},
            {"head-against-allowed": "0.8", "head-under-base": "1 m"},
            OPEN,
            {"kind": "swimming-pool"},
        ),
        Case(
            "may-float",
            {"head-against-allowed": "1.2", "head-under-base": "1 m"},
            {"head-under-base": "0 m"},
            OPEN,
            {"kind": "tank"},
        ),
    ],
    ("drinking water with a path and water outside over it", "a path out is a path in"): [
        Case(
            "path-into-drinking-water",
            {"outside-water": "above-the-place"},
            {"outside-water-at-the-path": "no"},
            OPEN,
            {**DRINKING, "wetness": "drips"},
        ),
        Case(
            "path-into-drinking-water",
            {"outside-water-level": "1.2 m", "place-level": "1 m"},
            {"highest-outside-water": "0.4 m", "place-level": "1 m"},
            OPEN,
            {"kind": "tank", "use-now": "holds-drinking-water", "level-test": "beyond-allowance"},
        ),
        Case(  # at it, not above it; and only once
            "path-into-drinking-water",
            {"highest-outside-water": "1 m", "place-level": "1 m"},
            {"highest-outside-water": "0.9 m", "place-level": "1 m"},
            OPEN,
            {**DRINKING, "dye-at-inside": "drawn-into-crack-or-joint"},
        ),
        Case(
            "path-into-drinking-water",
            {"kind": "drinking-water-reservoir", "outside-water-at-the-path": "yes"},
            {"kind": "waste-water-tank"},
            NEITHER,
            {"wetness": "drips"},
        ),
    ],
}
