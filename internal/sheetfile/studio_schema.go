package sheetfile

// A studio file is TOML in UTF-8, written and edited by hand, and read as strictly as a sheet. All of it but format and
// currency may be left out; what is left out is 0, or is not known.
//
//	format = 1
//	studio = "Oat and Ash"
//	contact = "030 901820, oatandash@example.org"  # whom a client calls, for the card
//	currency = "EUR"          # its ISO 4217 code
//
//	[service]                 # minutes, which may have decimals; they are kept to the second
//	setup = 20                # once for each client
//	row = 4                   # for each row
//	bond = 1.5                # for each bond, and so is check
//	check = 0.25
//	finish = 30               # once for each client
//	hour = 45.00              # what an hour of it costs
//	spare = 5                 # strands at hand for those that go wrong, in % of those planned
//
//	[limits]                  # of the studio, as they are in a sheet
//	nape = 25
//
//	[[strand]]                # once for each kind of strand in stock, by its shade and length
//	shade = "oat"
//	colour = "#c9a26b"        # or [68.2, 7.1, 24.5], as in a sheet; *
//	length = 500
//	grams = 0.8               # of one strand
//	pack = 25                 # strands in a pack
//	texture = "straight"      # * as all that is marked, may be left out
//	ends = 60                 # * % of its hair that reaches its full length
//	tip = "flat"              # * as the studio calls it
//	price = 62.50             # of a pack, as the client pays it
//	on_hand = 40              # * single strands in the drawer
//
// Sums of money are taken from the digits as they stand in the file. They may be a text too, "62,50", but never have
// an exponent. None of them is ever a number with a floating point.
var studioFile = schema{
	called: "studio file", short: "studio file", on: "in a studio file", of: "studio",
	naming: "give the name of a studio file", see: "the studio file that comes with the program",
	like: likes{number: "hour = 45.00", text: `texture = "straight"`, spaced: `"bog oak"`, headers: "[service], or [[strand]]"},

	most: map[string]int{"strand": 500},
	keysIn: map[string][]string{
		"":        {"format", "studio", "contact", "currency", "service", "limits", "strand"},
		"service": {"setup", "row", "bond", "check", "finish", "hour", "spare"},
		"limits":  limitNames(),
		"strand":  {"shade", "colour", "length", "grams", "pack", "texture", "ends", "tip", "price", "on_hand"},
	},
	example: map[string]string{
		"format": "1", "studio": `"Oat and Ash"`, "contact": `"030 901820"`, "currency": `"EUR"`,
		"setup": "20", "row": "4", "bond": "1.5", "check": "0.25", "finish": "30", "hour": "45.00", "spare": "5",
		"shade": `"oat"`, "colour": `"#c9a26b"`, "length": "500", "grams": "0.8", "pack": "25", "texture": `"straight"`,
		"ends": "60", "tip": `"flat"`, "price": "62.50", "on_hand": "40",
	},
	exampleIn: map[string]map[string]string{"limits": {"": "25"}},
	otherwise: map[string]map[string]string{
		"":        {"name": "studio", "phone": "contact", "strands": "strand", "shade": "strand"},
		"service": {"rate": "hour", "price": "hour"},
		"strand":  {"name": "shade", "stock": "on_hand", "drawer": "on_hand", "weight": "grams", "cost": "price"},
	},
}
