package sheetfile

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// lengthKeys are the keys whose values are lengths, wherever they stand; and of the limits those in mm.
func lengthKeys() []string {
	keys := []string{"circumference", "ear_to_ear", "front_to_nape", "nape_width", "hole_spacing", "line_gap",
		"length", "ponytail", "right", "height", "radius", "along"}
	for _, l := range sheet.Limits {
		if l.Unit == "mm" {
			keys = append(keys, string(l.Name))
		}
	}
	return keys
}

// inUnit is the text of a saved sheet with every length in another unit.
func inUnit(data []byte, unit string, mm float64) []byte {
	quoted := func(number string) string {
		v, err := strconv.ParseFloat(number, 64)
		if err != nil {
			panic(err)
		}
		return `"` + strconv.FormatFloat(v/mm, 'f', -1, 64) + " " + unit + `"`
	}
	key := regexp.MustCompile(`(?m)^(` + strings.Join(lengthKeys(), "|") + `) = (-?[0-9.]+)$`)
	data = key.ReplaceAllFunc(data, func(line []byte) []byte {
		m := key.FindSubmatch(line)
		return []byte(string(m[1]) + " = " + quoted(string(m[2])))
	})
	pair := regexp.MustCompile(`(?m) = \[(-?[0-9.]+), (-?[0-9.]+)\]$`)
	return pair.ReplaceAllFunc(data, func(line []byte) []byte {
		m := pair.FindSubmatch(line)
		return []byte(" = [" + quoted(string(m[1])) + ", " + quoted(string(m[2])) + "]")
	})
}

// TestUnitsGiveTheSameFindings holds a sheet written in centimetres and in inches to the same sheet in
// millimetres: the same when saved again, and with the same findings.
func TestUnitsGiveTheSameFindings(t *testing.T) {
	var paths []string
	for _, pattern := range []string{"../../assets/sheets/*.toml", "../../testdata/rules/ordinary/*.toml", "../../testdata/rules/worked/*.toml", samples + "/good/full.toml"} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Fatalf("%s: %v, %v", pattern, found, err)
		}
		paths = append(paths, found...)
	}
	for _, path := range paths {
		s := wantSheet(t, path, readSample(t, path))
		saved := Encode(s)
		want := findings(t, s)
		for unit, mm := range map[string]float64{"mm": 1, "cm": 10, "in": 25.4} {
			written := inUnit(saved, unit, mm)
			if bytes.Count(written, []byte(unit+`"`)) < 6 {
				t.Fatalf("%s in %s: too few lengths are rewritten:\n%s", path, unit, written)
			}
			again := wantSheet(t, path+" in "+unit, written)
			if got := Encode(again); !bytes.Equal(got, saved) {
				t.Errorf("%s in %s: %s", path, unit, diff(string(saved), string(got)))
			}
			if got := findings(t, again); got != want {
				t.Errorf("%s in %s: %s", path, unit, diff(want, got))
			}
		}
	}
}

// findings are the findings of a sheet, a line each.
func findings(t *testing.T, s *sheet.Sheet) string {
	t.Helper()
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, f := range rule.Check(s, table).Findings {
		b.WriteString(f.Severity.String() + " " + f.Rule + " " + f.Where() + ": " + f.Message() + "\n")
	}
	return b.String()
}
