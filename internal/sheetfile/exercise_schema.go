package sheetfile

// An exercise is a TOML file in UTF-8: a brief, what counts, the sheet to begin with, and an answer that passes.
//
//	# Underveil exercise. Lengths in mm, grams in g.
//	format = 1
//	exercise = "The first row"
//	task = "place"                # place, find or fit
//	brief = "lay one row\nout of the nape zone"
//	who = "Client 101, worn down" # the client
//	findings = "live"             # what the rules find is shown live, when asked, or never
//	may = ["rows"]                # what of the sheet may be touched
//	clear = ["nape", "stops"]     # * rules that may report nothing; stops and cautions are all of those
//	most_strands = 30             # *
//	tolerance = 3                 # * to fit: how far from where it was planned a bond may lie
//	ending = "why it is so"       # what to take along, shown with the answer
//
//	[[target]]                    # * once for each figure that counts
//	of = "bonds"
//	height = 40                   # * of one row alone; or along
//	shade = "a"                   # * of one shade alone
//	least = 8                     # one of the two may be left out
//	most = 12
//
//	[[hint]]                      # * unfolded one at a time; each is true of the start
//	text = "the row lies {value} mm from the hairline"
//	rule = "nape"                 # what the rule reports there, with height or along, and slot, where it says which
//	target = 1                    # or a target that is missed at the start, by its number
//
//	[[fault]]                     # to find: once for each
//	rule = "nape"
//	height = 10
//	slot = 3
//
//	[start]
//	sheet = '''                   # a whole head sheet
//	'''
//
//	[answer]
//	changes = '''                 # what is different from the start, as in a demonstration
//	'''
//
// To find, the answer is the sheet without its faults; to fit, the plan.
var exerciseFile = schema{
	called: "exercise", short: "exercise", on: "in an exercise", of: "lesson",
	naming: "give the name of an exercise", see: "an exercise that comes with the program",
	like: likes{number: "most_strands = 30", text: `task = "place"`, spaced: `"split bonds"`, headers: "[start], or [[target]]"},

	most: map[string]int{"target": 40, "hint": 20, "fault": 40},
	keysIn: map[string][]string{
		"":       {"format", "exercise", "task", "brief", "who", "findings", "may", "clear", "most_strands", "tolerance", "ending", "target", "hint", "fault", "start", "answer"},
		"target": {"of", "height", "along", "shade", "least", "most"},
		"hint":   {"text", "rule", "height", "along", "slot", "target"},
		"fault":  {"rule", "height", "along", "slot"},
		"start":  {"sheet"},
		"answer": {"changes"},
	},
	example: map[string]string{
		"format": "1", "exercise": `"The first row"`, "task": `"place"`, "brief": `"lay one row out of the nape zone"`,
		"who": `"Client 101, worn down"`, "findings": `"live"`, "may": `["rows"]`, "clear": `["nape", "stops"]`, "most_strands": "30",
		"tolerance": "3", "ending": `"why it is so"`, "of": `"bonds"`, "height": "40", "along": "24", "shade": `"a"`, "least": "8",
		"most": "12", "text": `"look at the lowest row"`, "rule": `"nape"`, "slot": "-3", "target": "1", "sheet": literal, "changes": literal,
	},
	otherwise: map[string]map[string]string{
		"":       {"title": "exercise", "name": "exercise", "client": "who", "hints": "hint", "targets": "target", "faults": "fault", "strands": "most_strands", "sheet": "start"},
		"target": {"figure": "of", "min": "least", "max": "most", "row": "height"},
		"hint":   {"say": "text"},
	},
}

// An attempt is a TOML file in UTF-8: what a learner made of an exercise, as it is handed in.
//
//	# Underveil attempt.
//	format = 1
//	attempt = "first-row"         # the exercise: the name of its file without the ending
//	learner = "ML"                # *
//	date = 2026-03-02             # *
//	hints = 2                     # * how many were unfolded
//	answer_seen = true            # * an answer was looked at
//	assessor = "JK"               # * who looked at it, on what day, and a seal over what that was
//	signed = 2026-03-03
//	seal = "4f1c..."
//	seen = ["60 o.o.(o).o.o"]     # * to fit: the planned slots that were looked at
//
//	[[found]]                     # * to find: once for each slot marked
//	rule = "nape"
//	height = 10
//	slot = 3
//
//	[[off]]                       # * to fit: once for each bond that lies off the middle of its slot
//	height = 60
//	slot = -3
//	right = 2.5                   # mm along the scalp
//	up = -1
//
//	[result]
//	sheet = '''                   # the whole head sheet as it became
//	'''
//
//	[[mark]]                      # * kept on the machine, not handed in: each time that it was marked
//	date = 2026-03-02
//	met = 7
//	of = 9
//	passed = true                 # *
//	hints = 2                     # *
//	answer_seen = true            # *
//
//	[[step]]                      # * likewise: how it was made, from the start of the exercise, as in a demonstration
//	did = "place a bond"
//	tried = ["named nape 10 3"]   # * what was done besides: named, let go, seen, unseen, off
//	changes = '''
//	'''
var attemptFile = schema{
	called: "attempt", short: "attempt", on: "in an attempt", of: "lesson",
	naming: "give the name of an attempt", see: "an attempt handed in",
	like: likes{number: "hints = 2", text: `learner = "ML"`, spaced: `"place a bond"`, headers: "[result], or [[found]]"},

	most: map[string]int{"found": mostTried, "off": mostTried, "mark": mostMarks, "step": mostKept},
	keysIn: map[string][]string{
		"":       {"format", "attempt", "learner", "date", "hints", "answer_seen", "assessor", "signed", "seal", "seen", "found", "off", "result", "mark", "step"},
		"found":  {"rule", "height", "along", "slot"},
		"off":    {"height", "along", "slot", "right", "up"},
		"result": {"sheet"},
		"mark":   {"date", "met", "of", "passed", "hints", "answer_seen"},
		"step":   {"did", "say", "height", "along", "slot", "tried", "changes"},
	},
	example: map[string]string{
		"met": "7", "of": "9", "passed": "true",
		"format": "1", "attempt": `"first-row"`, "learner": `"ML"`, "date": "2026-03-02", "hints": "2", "answer_seen": "true", "assessor": `"JK"`, "signed": "2026-03-03",
		"seal": `"4f1c"`, "seen": `["60 o.o.(o).o.o"]`, "rule": `"nape"`, "height": "40", "along": "24", "slot": "-3", "right": "2.5", "up": "-1",
		"sheet": literal, "did": `"place a bond"`, "say": `"look at the nape"`, "tried": `["named nape 10 3", "seen 60 -3"]`, "changes": literal,
	},
	otherwise: map[string]map[string]string{
		"":     {"exercise": "attempt", "name": "learner", "by": "learner", "sheet": "result", "steps": "step"},
		"off":  {"left": "right"},
		"step": {"caption": "say", "text": "say", "change": "changes", "label": "did"},
	},
}
