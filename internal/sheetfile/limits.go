package sheetfile

import "example.org/underveil/internal/sheet"

// A file of limits is TOML in UTF-8: what a college holds to, in place of the studio's own.
//
//	format = 1
//	limits_of = "Ashgrove College"
//
//	[limits]
//	nape = 25
var limitsFile = schema{
	called: "file of limits", short: "file", on: "in a file of limits", of: "college",
	naming: "give the name of a file of limits", see: "the list of limits in the README",
	like: likes{number: "nape = 25", text: `limits_of = "Ashgrove College"`, spaced: `"Ashgrove College"`, headers: "[limits]"},

	keysIn:    map[string][]string{"": {"format", "limits_of", "limits"}, "limits": limitNames()},
	example:   map[string]string{"format": "1", "limits_of": `"Ashgrove College"`},
	exampleIn: map[string]map[string]string{"limits": {"": "25"}},
	otherwise: map[string]map[string]string{"": {"college": "limits_of", "name": "limits_of", "studio": "limits_of"}},
}

// LoadLimits reads the limits of a college and its name. Its error is as that of Load.
func LoadLimits(path string) (of string, limits map[sheet.LimitName]float64, err error) {
	data, bad := read(&limitsFile, path)
	if bad != nil {
		return "", nil, Errors{bad}
	}
	return DecodeLimits(path, data)
}

// DecodeLimits reads the limits of a college and its name. name is the name of the file, for messages.
func DecodeLimits(name string, data []byte) (of string, limits map[sheet.LimitName]float64, err error) {
	t, bad := openLesson(&limitsFile, name, data)
	if bad != nil {
		return "", nil, Errors{bad}
	}
	if t.isReadable("limits_of") {
		t.checkKeys()
		t.needTop("limits_of", "it is not said whose limits these are")
		t.text("limits_of", &of)
		if limits = t.limits(); len(limits) == 0 && len(t.errs) == 0 {
			t.failHere("there is no limit in this file", "add [limits] with lines like nape = 25")
		}
	}
	if err := t.finish(); err != nil {
		return "", nil, err
	}
	return of, limits, nil
}
