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
//	reason = "worn in a low bun only"
//	by = "JM"                 # *
//	date = 2026-03-02         # *
//
// A length may be a text with a unit, "56 cm" or "22 in"; it is kept and written in mm.
//
// The bonds of a row are written as [sheet.Row.Text] says. A sheet without any shade has shade = []; one that says
// nothing of shades and has no row gets the shade of a new sheet, and so it is with all else that may be left out but
// is not marked here.
package sheetfile

import (
	"slices"
	"strings"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// formatNow is the format that is written and the newest that is read.
const formatNow = 1

// MaxSize is the longest file, in bytes, that is taken for a sheet. The fullest head has a twentieth of it.
const MaxSize = 1 << 20

// most is how often a table may come: more than any head needs, and few enough to be read in no time.
var most = map[string]int{"parting": 200, "keep_off": 200, "shade": 26, "row": 400, "accept": 1000}

// keysIn is the keys of each table in the order in which they are written.
var keysIn = map[string][]string{
	"": {"format", "title", "client", "date", "notes", "worn", "wish", "hole_spacing", "line_gap",
		"head", "hair", "hairline", "turns", "limits", "parting", "keep_off", "shade", "row", "accept"},
	"head":     {"circumference", "ear_to_ear", "front_to_nape", "nape_width", "confirmed"},
	"hair":     {"length", "density", "ponytail", "count", "texture"},
	"hairline": landmarkNames(),
	"turns":    turnNames(),
	"limits":   limitNames(),
	"parting":  {"right", "length"},
	"keep_off": {"height", "right", "radius", "why"},
	"shade":    {"key", "name", "length", "grams", "pack"},
	"row":      {"height", "along", "look", "offset", "bonds"},
	"accept":   {"rule", "height", "along", "slot", "reason", "by", "date"},
}

// example is a value of each key, for messages that say how it is written.
var example = map[string]string{
	"format": "1", "title": `"spring fitting"`, "client": `"014"`, "date": "2026-03-02", "notes": `"fine at the crown"`,
	"worn": `["down", "high ponytail"]`, "wish": `["volume"]`, "hole_spacing": "8", "line_gap": "10",
	"circumference": "560", "ear_to_ear": "340", "front_to_nape": "355", "nape_width": "108", "confirmed": "true",
	"length": "300", "density": `"medium"`, "ponytail": "80", "count": "175", "texture": `"straight"`,
	"right": "30", "height": "60", "along": "24", "radius": "15", "why": `"scar"`,
	"key": `"a"`, "name": `"oat"`, "grams": "0.8", "pack": "25",
	"look": `"volume"`, "offset": "true", "bonds": `"a.a.(a).a.a"`,
	"rule": `"nape"`, "slot": "-3", "reason": `"worn in a low bun only"`, "by": `"JM"`,
}

// sample is how a key is written, with its value.
func sample(table, key string) string {
	value := example[key]
	switch table {
	case "hairline":
		value = "[3, -2]"
	case "turns":
		value = "[0, -10]"
	case "limits":
		value = "25"
	}
	return quoteKey(key) + " = " + value
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

// heading is how the header of a table is written; the top of the sheet has none.
func heading(table string) string {
	switch {
	case table == "":
		return "the top of the sheet"
	case most[table] > 0:
		return "[[" + table + "]]"
	}
	return "[" + table + "]"
}

// inWords is a key as a person would say it.
func inWords(key string) string { return strings.ReplaceAll(key, "_", " ") }

// isFlag reports whether a key is true or false.
func isFlag(key string) bool { return example[key] == "true" }

// otherwise is what else people call a key, by the table that has it.
var otherwise = map[string]map[string]string{
	"keep_off": {"left": "right", "reason": "why"},
	"parting":  {"left": "right"},
	"accept":   {"why": "reason"},
}

// isTable reports whether a key at the top is the name of a table.
func isTable(key string) bool { return key != "" && keysIn[key] != nil }

// tableOf is the first table, in the order of the file, that has the key.
func tableOf(key string) (table string, ok bool) {
	for _, t := range keysIn[""] {
		if slices.Contains(keysIn[t], key) {
			return t, true
		}
	}
	return "", false
}
