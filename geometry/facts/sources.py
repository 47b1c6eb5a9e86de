"""The sources of all reference values, each listed once under a short key."""

SOURCES: dict[str, str] = {
    "acetal-sheet": "technical data sheet of an acetal copolymer (POM-C)",
    "bd-materials": "library bd_materials 0.2.5",
    "bd-warehouse": "library bd_warehouse 0.4.0",
    "bolt-compendium": "bolt compendium (2006), seen as an excerpt",
    "cat-2203": "general catalogue of ball and roller bearings, CAT. No. 2203/E",
    "cat-e1102": "general catalogue of rolling bearings, CAT. No. E1102e (2007)",
    "demo": "figures invented for this program, to be replaced by those of the workshop",
    "din-7190-1": "DIN 7190-1, interference fits, as reproduced on an open page",
    "din-862": "DIN 862, calipers, limits of error",
    "din-863-1": "DIN 863-1, micrometers, limits of error",
    "fastener-page": "information page on steel fasteners",
    "fastener-sheet": "sheet of fastener properties after ISO 898-1 and ISO 3506-1, seen as an excerpt",
    "gost-18854": "GOST 18854-94, complete authentic text of ISO 76-87, static load ratings",
    "gost-24810": "GOST 24810-2013, internal clearance, after ISO 5753-1",
    "gost-520": "GOST 520-2011, rolling bearings, after ISO 492",
    "gost-52598": "GOST R 52598-2006, boundary dimensions, ISO 15:1998 modified",
    "iso-13385-1": "ISO 13385-1, calipers, design and metrological characteristics",
    "iso-15": "ISO 15, radial bearings, boundary dimensions",
    "iso-2768-1": "ISO 2768-1, general tolerances",
    "iso-286": "ISO 286, limits and fits",
    "iso-3506-1": "ISO 3506-1, stainless fasteners",
    "iso-68-1": "ISO 68-1 and ISO 724, metric screw threads",
    "iso-898-1": "ISO 898-1, fasteners of carbon and alloy steel",
    "jcgm-100": "JCGM 100:2008, guide to the expression of uncertainty in measurement (GUM)",
    "opensolids": "library opensolids 0.2.3",
    "plastics-handbook": "Engineering Plastics Handbook",
    "polyamide-sheet": "polyamide data sheets",
    "pressfit": "library pressfit 0.1.0",
    "pub-17000": "general catalogue of rolling bearings, PUB BU/P1 17000/1 EN (2018)",
    "rolling-bearing-books": "rolling bearing catalogues and handbooks",
    "stainless-sheet": "sheet of coefficients of friction of stainless bolts and nuts",
    "trade": "common practice of the trade",
    "vdi-2230": "VDI 2230 part 1, bolted joints, as reproduced on an open page",
}


def sources_in_words(citation: str) -> str:
    """A citation such as "cat-2203 table 17.5.1" with each key written out."""
    clauses = (clause.partition(" ") for clause in citation.split("; "))
    return "; ".join(f"{SOURCES[key]}, {place}" if place else SOURCES[key] for key, _, place in clauses)
