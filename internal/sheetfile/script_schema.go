package sheetfile

// A demonstration is a TOML file in UTF-8: a sheet, and what is done to it step by step. Recorded ones are trimmed and given
// words in a text editor.
//
//	# Underveil demonstration.
//	format = 1
//	demonstration = "Too near the nape"
//	about = "for the first week"  # *
//	say = "an ordinary head"      # * about the start
//
//	[start]
//	sheet = '''                   # a whole head sheet
//	...
//	'''
//
//	[[step]]                      # once for each
//	did = "place a bond"          # *
//	say = "look at the nape"      # * what to look at
//	height = 10                   # * where to look: height or along, and slot
//	slot = 3
//	changes = '''                 # what is different from the sheet before
//	[[row]]
//	height = 10
//	bonds = "a.(a)"
//	'''
//
// In changes stand keys of the top and tables as they are in a sheet: a table takes the place of the one there, a row that of the
// row at its place, and a list like [[shade]] that of the whole list. A row with bonds = "" is taken away, and
// without = ["notes", "limits"] takes away keys and tables.
var scriptFile = schema{
	called: "demonstration", short: "demonstration", on: "in a demonstration", of: "lesson",
	naming: "give the name of a demonstration", see: "a recorded demonstration",
	like: likes{number: "height = 60", text: `did = "place a bond"`, spaced: `"place a bond"`, headers: "[start], or [[step]]"},

	most: map[string]int{"step": mostSteps},
	keysIn: map[string][]string{
		"":      {"format", "demonstration", "about", "say", "start", "step"},
		"start": {"sheet"},
		"step":  {"did", "say", "height", "along", "slot", "changes"},
	},
	example: map[string]string{
		"format": "1", "demonstration": `"Too near the nape"`, "about": `"for the first week"`, "say": `"look at the nape"`,
		"did": `"place a bond"`, "height": "60", "along": "24", "slot": "-3",
		"sheet": literal, "changes": literal,
	},
	otherwise: map[string]map[string]string{
		"":     {"title": "demonstration", "name": "demonstration", "steps": "step", "sheet": "start", "caption": "say"},
		"step": {"caption": "say", "text": "say", "change": "changes", "label": "did"},
	},
}
