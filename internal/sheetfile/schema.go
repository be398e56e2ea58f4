// A sheet is a TOML file in UTF-8, made to be read and edited by hand. [Encode] writes it in one order and one shape,
// so that the same sheet is the same bytes; [Decode] reads it in any order and any shape that TOML allows. Remarks
// and layout are not kept when a sheet is saved; a notice says so of remarks.
//
//	# Underveil head sheet. Lengths in mm, grams in g.
//	format = 1
//	title = "spring fitting"
//	client = "014"            # may be left out, as all that is marked *
//	date = 2026-03-02         # *
//	notes = "first\nsecond"   # *
//	worn = ["down", "high ponytail"]
//	wish = ["volume"]
//	hole_spacing = 8
//	aside = true              # * the strip lies half a hole to the right
//	line_gap = 10
//
//	[head]
//	circumference = 560
//	ear_to_ear = 340
//	front_to_nape = 355
//	nape_width = 108
//	confirmed = true          # * takes measures that few heads have
//
//	[hair]                    # * the client's own; each may be left out, and is then not known
//	length = 300
//	density = "medium"        # by eye
//	ponytail = 80             # round all the hair, tied tightly
//	count = 175               # hairs on a cm² at the back of the head
//	texture = "straight"
//	root = "#6d5638"          # its colour at the root, as sRGB
//	mid = [42.5, 7.1, 20.3]   # halfway, as L*, a* and b*
//	ends = "48 8.2 25"        # at the ends; the same three may be a text, and are written as one
//
//	[consultation]            # * asked before anything is planned; what is left out has not been asked
//	shedding = "no"           # or "yes"; each question has a line like this
//	patch_test = 2026-02-27   # when it was done
//	agreed = 2026-03-02       # when the client signed
//
//	[amounts]                 # * how much of each look is wished for
//	length = 500              # that the hair is to have
//	volume = 20               # hairs added, in % of the client's own
//	highlights = 24           # bonds
//
//	[hairline]                # * points moved on the map: to the right, up
//	"temple point left" = [3, -2]
//
//	[turns]                   # * where the hair turns, moved on the map: to the right, up
//	whorl = [8, -4]
//	"half up section" = [0, 10]
//
//	[limits]                  # * set for this client; the others are the defaults
//	nape = 25
//
//	[[parting]]               # * once for each; none means no parting
//	right = 30                # from the midline; negative is left
//	length = 120
//
//	[[keep_off]]              # * once for each
//	height = 120
//	right = -24
//	radius = 15               # more than 0
//	why = "scar"              # *
//
//	[[shade]]                 # once for each
//	key = "a"
//	name = "oat"
//	length = 500
//	grams = 0.8               # of one whole strand
//	pack = 25                 # strands in a pack
//	colour = "#c9a26b"        # * in either way that a colour of hair is written
//	texture = "straight"      # *
//	ends = 60                 # * % of its hair that reaches its full length
//	toned = "one part ash"    # * how it is to be toned before the fitting
//	used = 1                  # * how often these strands were in a head before
//	retipped = 1              # * how often they got a new tip
//	was = "b"                 # * the shade that they were before that
//
//	[[row]]                   # once for each
//	height = 60               # or along = 24 for a row front to back, 24 mm right of the midline
//	look = "volume"           # *
//	offset = true             # *
//	bonds = "a.A.a'.(a).a'.A.a"
//
//	[[accept]]                # * a finding that somebody decided to live with
//	rule = "nape"
//	height = 10               # or along; left out for a finding about the whole sheet
//	slot = -3                 # left out for a finding about a whole row
//	about = "shedding"        # * what it is about, where a rule says several things of the whole sheet
//	reason = "worn in a low bun only"
//	by = "JM"                 # *
//	date = 2026-03-02         # *
//
//	[[visit]]                 # * once for each, in the order in which they were
//	kind = "refit"            # fitting, inspection, refit or removal
//	date = 2026-03-02
//	by = "JM"                 # *
//	notes = "first\nsecond"   # *
//	seconds = 5400            # * at the chair
//	open = true               # * it is not finished: the last one alone may be open
//	aside = true              # * its bonds were made with the strip half a hole to the right
//	fitted = [                # * the bonds made, as they really are
//	    "60 a.a.A'.(a).A'.a.a",
//	    "along -16 A.(A).A",
//	]
//	seen = [                  # * of the bonds that were in when it began, a mark each
//	    "60 o.o.o.(x).o.o.o",
//	]
//	ticks = [                 # * of those still to be made: h for hair pulled, x for left out
//	    "80 h.h.(.).x",
//	]
//	strands = [               # * what became of the strands that came out
//	    "b retipped=4 halved=1 kept=1 thrown=1 cut=10 into=a",
//	]
//
// Of a row in a visit each text gives the place, as height or along would, and after a blank its slots: in fitted as the
// bonds of a row, in seen and ticks as letters of [sheet.SeenMarks] and [sheet.TickMarks], in seen capitals for what was put
// right. Such a place need not be on the map any more. In strands the letter is that of the shade, a capital for halves; the
// figures are pieces, cut is what was cut back in mm, and into the shade that stands for those with new tips from then on. What is in the
// head when a visit begins follows from those before it, and a visit that speaks of other bonds is refused.
//
// A length may be a text with a unit, "56 cm" or "22 in"; it is kept and written in mm. The limits of the studio are
// in its own file, and are not written here.
//
// The bonds of a row are written as [sheet.Row.Text] says. A sheet without any shade has shade = []; one that says
// nothing of shades and has no row gets the shade of a new sheet, and so it is with all else that may be left out but
// is not marked here.
package sheetfile

import (
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// formatNow is the format that is written and the newest that is read.
const formatNow = 1

// MaxSize is the longest file, in bytes, that is taken for a sheet. The fullest head has a twentieth of it.
const MaxSize = 1 << 20

// mostRows is how many rows a sheet may have, and a list of a visit.
const mostRows = 400

// headSheet is the schema of a head sheet.
var headSheet = schema{
	called: "head sheet", short: "sheet", on: "on a sheet", of: "head",
	naming: "give the name of a head sheet, or make a new sheet", anew: ", or make a new sheet", see: "a new sheet",
	like: likes{number: "circumference = 560", text: `density = "medium"`, spaced: `"temple point left"`, headers: "[head], or [[row]]"},

	// More than any head needs, and few enough to be read in no time.
	most: map[string]int{"parting": 200, "keep_off": 200, "shade": 26, "row": mostRows, "accept": 1000, "visit": 400},
	keysIn: map[string][]string{
		"": {"format", "title", "client", "date", "notes", "worn", "wish", "hole_spacing", "aside", "line_gap",
			"head", "hair", "consultation", "amounts", "hairline", "turns", "limits", "parting", "keep_off", "shade", "row", "accept", "visit"},
		"head":         {"circumference", "ear_to_ear", "front_to_nape", "nape_width", "confirmed"},
		"hair":         {"length", "density", "ponytail", "count", "texture", "root", "mid", "ends"},
		"consultation": append(questionNames(), "patch_test", "agreed"),
		"amounts":      {"length", "volume", "highlights"},
		"hairline":     landmarkNames(),
		"turns":        turnNames(),
		"limits":       limitNames(),
		"parting":      {"right", "length"},
		"keep_off":     {"height", "right", "radius", "why"},
		"shade":        {"key", "name", "length", "grams", "pack", "colour", "texture", "ends", "toned", "used", "retipped", "was"},
		"row":          {"height", "along", "look", "offset", "bonds"},
		"accept":       {"rule", "height", "along", "slot", "about", "reason", "by", "date"},
		"visit":        {"kind", "date", "by", "notes", "seconds", "open", "aside", "fitted", "seen", "ticks", "strands"},
	},
	example: map[string]string{
		"format": "1", "title": `"spring fitting"`, "client": `"014"`, "date": "2026-03-02", "notes": `"fine at the crown"`,
		"worn": `["down", "high ponytail"]`, "wish": `["volume"]`, "hole_spacing": "8", "line_gap": "10",
		"circumference": "560", "ear_to_ear": "340", "front_to_nape": "355", "nape_width": "108", "confirmed": "true",
		"length": "300", "density": `"medium"`, "ponytail": "80", "count": "175", "texture": `"straight"`,
		"root": `"#6d5638"`, "mid": `"#7d6444"`, "ends": `"#8a7050"`, "volume": "20", "highlights": "24",
		"right": "30", "height": "60", "along": "24", "radius": "15", "why": `"scar"`,
		"key": `"a"`, "name": `"oat"`, "grams": "0.8", "pack": "25", "colour": `"#c9a26b"`, "toned": `"one part ash"`,
		"look": `"volume"`, "offset": "true", "bonds": `"a.a.(a).a.a"`,
		"rule": `"nape"`, "slot": "-3", "about": `"shedding"`, "reason": `"worn in a low bun only"`, "by": `"JM"`,
		"aside": "true", "used": "1", "retipped": "1", "was": `"b"`, "kind": `"inspection"`, "seconds": "5400", "open": "true",
		"fitted": `["60 a.a.(a).a.a"]`, "seen": `["60 s.s.(x).s.s"]`, "ticks": `["60 h.h.(.).x"]`, "strands": `["a retipped=40 thrown=2 cut=10 into=b"]`,
	},
	exampleIn: map[string]map[string]string{
		"consultation": {"": `"no"`, "patch_test": "2026-02-27", "agreed": "2026-03-02"},
		"hairline":     {"": "[3, -2]"},
		"turns":        {"": "[0, -10]"},
		"limits":       {"": "25"},
		"shade":        {"ends": "60"},
	},
	otherwise: map[string]map[string]string{
		"hair":     {"middle": "mid", "roots": "root", "tips": "ends"},
		"keep_off": {"left": "right", "reason": "why"},
		"parting":  {"left": "right"},
		"accept":   {"why": "reason"},
		"visit":    {"bonds": "fitted", "rows": "fitted", "marks": "seen", "pieces": "strands", "time": "seconds", "type": "kind"},
	},
}

func questionNames() []string {
	var names []string
	for _, q := range sheet.Questions {
		names = append(names, string(q.ID))
	}
	return names
}

func landmarkNames() []string {
	var names []string
	for _, l := range scalp.Landmarks() {
		names = append(names, l.String())
	}
	return names
}

func turnNames() []string {
	var names []string
	for _, t := range sheet.Turns {
		names = append(names, string(t))
	}
	return names
}

func limitNames() []string {
	var names []string
	for _, l := range sheet.Limits {
		names = append(names, string(l.Name))
	}
	return names
}
