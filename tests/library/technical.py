"""Sentences of site notes that name nobody and no place: scrubbing must leave them as they are.

Written before the patterns. Invented.
"""

TECHNICAL: tuple[str, ...] = tuple(
    """
Crack width 0.2-0.3 mm, wet over 1.20 m, no movement since the last visit.
Flow 40 drops/min at the foot of the wall, 12 drops/min an hour later.
Concrete C30/37 XC4, w/c 0.45, cover 40 mm measured at 12 points.
Concrete class C25/30, XC2, XA1, WF, max aggregate 16 mm.
W/C 0.45 per delivery note; cement CEM III/A 42,5 N-LH/NA, 340 kg/m3.
CEM II/B-S 42.5 R, 320 kg/m3, slump class F3, placed at 18 degrees.
Injection to EN 1504-5 with a swelling fitted product, class D1.
Surface protection to EN 1504-2, bond 1.8 MPa on average, lowest 1.2 MPa.
Tested to EN 12390-8: penetration 28 mm, limit 50 mm.
EN 206:2013+A2:2021 and DIN 1045-2:2023-08 are named in the specification.
The design follows EN 1992-3, tightness class 1, and BS 8102:2022, grade 2.
ISO 12944 C5 coating on the steel frame, 240 um dry film.
ACI 224R gives 0.10 mm for water-retaining structures.
Packers at 150 mm centres, drilled at 45 degrees, 14 mm diameter, depth 250 mm.
Injected 1,250 ml at 8 bar over 35 min, then 300 ml at 12.5 bar.
Pressure rose from 5 to 80 bar and fell to 20 bar after 90 s.
Packers 1-24 took 0.4 l each; packer 17 took 3.5 l and did not build up.
Consumption 4500 ml in all, 12 kg of cement grout, 2.5 l of acrylic gel.
Water level outside 2.35 m above the slab, inside dry, pump running.
Groundwater at 103.25 m above datum, slab underside at 98.40 m.
Level fell by 12 mm in 48 h; evaporation pan fell by 3 mm.
Tank 12.0 x 8.5 x 4.2 m, filled to 3.90 m, test time 72 h.
Slab 30 cm, walls 25 cm, reinforcement 12/150 mm each way, cover 35 mm.
Rebar T12@150 top and H16 @ 200 bottom, laps 600 mm.
Bars 10/12/14 mm as drawn; starter bars d16-200.
Waterstop 240 mm wide, splice at axis B/12, not welded.
Leak at grid A-B/12-13, about 3 m from the corner, 0.5 m above the floor.
Panel joint 7, between panels 6 and 7, wet from -2.5 m down to -6.0 m.
Ring 112 to 115, segment B2, gasket joint, 30 l/h altogether.
Chainage 0+125.50 to 0+131.20, left side, drips every 4 s.
Pipe DN 200 PE-HD with a collar, annular gap 15 mm, no puddle flange.
Sleeve DN 150, two seals, torque 12 Nm, link seal re-tightened.
Electrical conductivity 820 uS/cm at 11.5 C, tap water 610 uS/cm.
pH 12.4, chloride 35 mg/l, sulphate 420 mg/l, hardness 18 dH.
Air 19.5 C, 64 % RH, dew point 12.6 C, wall surface 11.8 C.
Moisture 4.2 % CM at 40 mm, 3.1 % CM at 80 mm.
Hammer reading 42, 44, 45, 41, 43; mean 43.
Ultrasonic 4,150 m/s; echo shows the back wall at 302 mm.
Half-cell potential -350 mV near the joint, -120 mV in the field.
Tell-tale read 0.00, 0.02, 0.05 and 0.03 mm on four visits.
The crack moves 0.08 mm between 6 a.m. and 3 p.m. at 12 K difference.
Flood test 48 h with 50 mm water, dye seen after 35 min at joint 3.
Dye 200 ppm, seen after 1 h 20 min in the sump, not in the drain.
Rain 32 mm in 24 h, 4 days before; wet place 1.5 m2 after it, dry after 10 days.
Tightness class A agreed: no damp spots over 2 %, no running water.
Rate at 3600 l/day before and 12 l/day after the first round.
Two rounds, 14 days apart, 16 packers each, hose 25 m of 10 mm.
Construction joint wet for 6.5 m, lime 3 mm thick, rust at 2 points.
The wall was cast in 3 lifts of 2.4 m; form ties every 0.75 m.
Poured at 28 C, stripped after 18 h, cured for 3 days, 7-day strength 24.5 MPa.
Core of 100 mm taken to 200 mm; honeycomb from 60 to 140 mm.
Pump 3 stopped for 9 h, float switch stuck, check valve DN 80 leaks.
Hydrostatic head 45 kPa, about 6.5 psi or 15 ft of water.
Swelling strip 20 x 5 mm laid on a rough joint, cover 60 mm on the wet side.
Expansion joint 20 mm wide, opened to 26 mm in the cold season.
PU foam first, then resin with viscosity 90 mPas, pot life 45 min at 20 C.
Epoxy ratio 2:1 by weight, batch mixed for 3 min at 400 rpm.
Crystalline slurry 1.5 kg/m2 in 2 coats, wetted for 5 days.
See drawing 4, detail 12, section 3-3; clause 4.2.1 of the specification.
Bond test 1.1, 1.4, 1.6 N/mm2; failure in the concrete at 2 of 3.
Door closes hard, floor slopes 1.5 % to the gully, backfall of 8 mm.
Roof membrane 1.5 mm, lap 80 mm, upstand 150 mm, probe catches at 2 laps.
The main water pipe and the street side wall are dry; the mill stone wall is wet.
Station 5 of the level survey settled 4 mm, station 6 settled 11 mm.
Wasser tritt an der Fuge aus, 0,3 mm Riss, 12 Tropfen/min, 2,5 bar.
Riss Nr. 4, Breite 0,25 mm, Länge 3,40 m, Packer alle 15 cm, 4500 ml Harz.
Fissure de 0,2 mm, longueur 2,5 m, 30 gouttes/min, C30/37, XF1.
Fisura de 0,4 mm en el muro, 3 m de largo, 20 gotas/min.
Rysa 0,3 mm na długości 2,5 m, beton C30/37, W8, 15 kropli/min.
Trhlina 0,3 mm, délka 4 m, beton C 25/30, průsak 10 kapek/min.
Spare sensor reads 12, 14, 15 and 18 in a row; the long crack is 12.5 m.
Shrinkage by EN 1992-1-1 at 28 days, 29 CFR 1926 subpart P for the shoring.
Age 12 years; opened in 2031; warranty of 10 years; 5 storeys below ground.
""".strip().splitlines()
)
