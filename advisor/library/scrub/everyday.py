"""Words that are no identity by themselves, though they stand in names, addresses and firms."""

import re


def words(text: str) -> frozenset[str]:
    return frozenset(text.split())


EVERYDAY = words(
    """
    main street road avenue lane drive close court crescent square terrace place way hill walk row
    quay grove gardens garden park north south east west upper lower old new great little high low
    church station mill bridge market school castle river lake harbour port spring well bay forest
    wood woods field fields green white black brown gray grey red long short stone brook wall walls
    water waters rain pool pond tank tanks shaft cellar basement garage room floor slab roof pump
    drain pipe valve joint crack leak wet dry damp seal seals bar sand lime salt clay steel iron
    house home court tower villa hotel hall block building buildings centre center office owner
    tenant neighbour caretaker manager contact property properties management services service
    housing estate estates trust group holding construction constructions building concrete sealing
    injection engineering engineers consulting design designers architects works plant city town
    village county state country region district flat apartment unit level storey number phone
    mobile mail email address contract policy claim account invoice none unknown private name
    info admin kontakt
    the and with for from near behind opposite next left right above below inside outside first
    second third one two three young king bishop cook baker smith mason porter carpenter hand foot
    head may june april august rose rock cliff glass frost winter summer day love best good rich
    stark klein gross gut alt neu weiss schwarz braun rot grau lang kurz stein bach berg tal wald
    feld haus hof wand fuge riss keller decke boden wasser beton bau strasse weg platz gasse allee
    ring damm ufer bahnhof kirche schule markt garten dorf stadt
    rue place chemin maison eau mur grand petit nouveau ville gare calle plaza casa agua muro nueva
    grande via piazza corso casa acqua straat weg huis ulica dom woda dum voda beton stavby stavba
    """
)
"""Folded. As a part of a person's name each counts only when it has a capital."""

PARTICLES = words(
    """von van vom zum zur der den dem die das de del della dei di da do dos das du des la le les
    el al bin ibn ben af av och und and et y e i a the of at in am an auf te ter ten op"""
)

TITLES = words(
    """mr mrs ms miss sir dr prof ing dipl mag herr herrn frau familie fam mme mlle madame monsieur
    sr sra senor senora don dona sig signor signora dott pan pani pana panem panu mgr bc jun sen
    junior senior owner tenant"""
)

COMPANY = words(
    """gmbh kg ag ohg ug ltd limited llc llp inc plc corp co sa sas sarl srl spa bv nv sro spol as
    sp zoo ab aps oy company firma"""
)

STREET = re.compile(
    r"^(?:street|road|avenue|lane|boulevard|rue|chemin|calle|avenida|plaza|via|viale|piazza|corso|"
    r"ulica|ulice|ulici|aleja|namesti|ul|str)$|"
    r".{3}(?:strasse|gasse|weg|platz|allee|straat|laan|gracht|plein|kade)$"
)
"""What makes a folded word part of an address."""
