package rule_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/underveil/internal/sheetfile"
)

// paths are the sheets in testdata/rules, or in one of its folders.
func paths(t testing.TB, folder string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(fixtures, folder, "*.toml"))
	if err != nil || len(found) == 0 {
		t.Fatalf("no sheets in %s: %v", folder, err)
	}
	return found
}

// short is the name of a sheet below testdata/rules.
func short(path string) string {
	return filepath.ToSlash(strings.TrimPrefix(path, fixtures+string(filepath.Separator)))
}

// Each sheet in testdata/rules states what is found on it, and that is found and nothing else.
func TestFixtures(t *testing.T) {
	for _, path := range paths(t, "*") {
		t.Run(short(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.HasPrefix(string(text), "# ") {
				t.Error("the first line does not say what the sheet shows")
			}
			wanted, err := wants(string(text))
			if err != nil {
				t.Fatal(err)
			}
			rep := check(t, open(t, path))
			if wrong := unmet(wanted, rep); len(wrong) > 0 {
				t.Errorf("%s\nall that was found:\n%s", strings.Join(wrong, "\n"), listed(rep))
			}
		})
	}
}

// An ordinary good placement has no stop and no caution.
func TestOrdinary(t *testing.T) {
	for _, path := range paths(t, "ordinary") {
		s := open(t, path)
		rep := check(t, s)
		if rep.Stops+rep.Cautions+rep.Accepted > 0 {
			t.Errorf("%s:\n%s", short(path), listed(rep))
		}
		if s.Bonds() < 40 {
			t.Errorf("%s: %d bonds are no placement", short(path), s.Bonds())
		}
	}
}

// The wants are what they seem: each way of stating something else than what is found is noticed.
func TestUnmetWants(t *testing.T) {
	const sheet = `format = 1 # WISH
head = {circumference = 560, ear_to_ear = 340, front_to_nape = 355, nape_width = 108}
shade = [{key = "a"}]
[[row]]
height = 20
bonds = "(a)...a" # ROW
[[accept]]
rule = "nape"
height = 20
slot = 4
reason = "low bun # only"
[[accept]] # STALE
rule = "trim"
height = 20
slot = 4
reason = "was there"
# PLACED
`
	right := map[string]string{
		"ROW":    `want: nape stop @0 "19.6 mm from the nape hairline, at least 20.0 mm (common practice, no source)"; nape stop accepted @4`,
		"PLACED": "want: stale",
	}
	for _, c := range []struct {
		at, state string
		complaint string // empty where nothing is wrong
	}{
		{"ROW", right["ROW"], ""},
		{"ROW", `want: nape stop @0; nape stop accepted @4 "14.5 mm"`, ""},
		{"ROW", "want: nape stop @0", "not wanted: nape stop accepted, height 20, slot 4 right"},
		{"ROW", "no comment", "not wanted: nape stop, height 20, slot 0"},
		{"ROW", right["ROW"] + "; ear stop @4", "not found: line 6: ear stop, height 20, slot 4 right"},
		{"ROW", right["ROW"] + "; nape stop @0", "not found: line 6: nape stop"},
		{"ROW", "want: nape caution @0; nape stop accepted @4", "not found: line 6: nape caution"},
		{"ROW", "want: nape stop accepted @0 @4", "not found: line 6: nape stop accepted, height 20, slot 0"},
		{"ROW", "want: nape stop @0 @4", "not found: line 6: nape stop, height 20, slot 4"},
		{"ROW", "want: nape stop @1; nape stop accepted @4", "not found: line 6: nape stop, height 20, slot 1"},
		{"ROW", "want: nape stop; nape stop accepted @4", "not found: line 6: nape stop, height 20"},
		{"ROW", `want: nape stop @0 "19.7 mm"; nape stop accepted @4`, `"19.7 mm"`},
		{"WISH", "want: nape stop", "not found: line 1: nape stop, the sheet"},
		{"PLACED", "no comment", "not wanted: a stale acceptance of trim, height 20, slot 4"},
		{"STALE", "want: stale", "stale acceptance of , the sheet"}, // before the place is read
		{"ROW", "want nape stop @0", "begins with want:"},
		{"ROW", "want: napes stop @0", "no rule"},
		{"ROW", "want: nape error @0", "no severity"},
		{"ROW", "want: nape", "a rule and a severity"},
		{"ROW", "want: stale", "stale is for an acceptance"},
		{"ROW", "want: nape stop 0", "no slot"},
		{"ROW", "want: nape stop @x", "no slot"},
		{"ROW", `want: nape stop @0 "19.7`, "in quotes"},
		{"ROW", `want: nape stop "19.7" @0`, "in quotes"},
		{"WISH", "want: nape stop @0", "a slot is on a row"},
	} {
		text := sheet
		for at, state := range right {
			if at == c.at {
				state = c.state
			}
			text = strings.Replace(text, "# "+at, "# "+state, 1)
		}
		text = strings.Replace(text, "# "+c.at+"\n", "# "+c.state+"\n", 1)
		s, _, err := sheetfile.Decode("a sheet", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		complaint := ""
		if wanted, err := wants(text); err != nil {
			complaint = err.Error()
		} else {
			complaint = strings.Join(unmet(wanted, check(t, asked(s))), "\n")
		}
		if (complaint == "") != (c.complaint == "") || !strings.Contains(complaint, c.complaint) {
			t.Errorf("%s, %s: %q, and not %q", c.at, c.state, complaint, c.complaint)
		}
	}
}
