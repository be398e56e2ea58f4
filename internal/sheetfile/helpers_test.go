package sheetfile

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
)

// wantSafeError asserts that an error is an Errors whose text is safe, and complete.
func wantSafeError(t *testing.T, err error) {
	t.Helper()
	var all Errors
	if !errors.As(err, &all) || len(all) == 0 {
		t.Fatalf("error %T, not Errors", err)
	}
	for _, line := range strings.Split(err.Error(), "\n") {
		if !printable.Clean(line) {
			t.Errorf("line %+q is not safe to show", line)
		}
	}
	for _, e := range all {
		for _, s := range []string{e.File, e.Source, e.Problem, e.Remedy} {
			if !printable.Clean(s) {
				t.Errorf("%+q is not safe to show", s)
			}
		}
		if e.Problem == "" || e.Remedy == "" || (e.Line > 0) != (e.Col > 0) || (e.Line > 0) != (e.Width > 0) {
			t.Errorf("the error is not complete: %+v", *e)
		}
	}
}

func wantSafeSheet(t *testing.T, s *sheet.Sheet) {
	t.Helper()
	texts := []string{s.Title, s.Client, s.Date, s.Asked.PatchTest, s.Asked.Agreed}
	for _, colour := range []shade.Reading{s.Hair.Root, s.Hair.Mid, s.Hair.Ends} {
		texts = append(texts, string(colour))
	}
	texts = append(texts, strings.Split(s.Notes, "\n")...)
	for _, k := range s.KeepOff {
		texts = append(texts, k.Why)
	}
	for _, h := range s.Shades {
		texts = append(texts, h.Name, string(h.Colour), h.Toned)
	}
	for _, a := range s.Accepted {
		texts = append(texts, a.Rule, a.About, a.Reason, a.By, a.Date)
	}
	for _, v := range s.Visits {
		texts = append(texts, string(v.Kind), v.Date, v.By)
		texts = append(texts, strings.Split(v.Notes, "\n")...)
	}
	for _, text := range texts {
		if !printable.Clean(text) {
			t.Errorf("%+q is not safe to show", text)
		}
	}
}

// wantSheet decodes a sheet that must be right as it is, but for remarks.
func wantSheet(t *testing.T, name string, data []byte) *sheet.Sheet {
	t.Helper()
	s, notices, err := Decode(name, data)
	if err != nil {
		t.Fatal(err)
	}
	notices = slices.DeleteFunc(notices, func(n Notice) bool { return n.Text == RemarksLost })
	if len(notices) > 0 {
		t.Errorf("notices %v", notices)
	}
	return s
}

func sampleFiles(t testing.TB, kind string) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(samples, kind, "*.toml"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no samples: %v", err)
	}
	return paths
}

func readSample(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func wantGolden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (-update writes it)", err)
	}
	if string(want) != got {
		t.Errorf("%s (-update writes it anew)\n%s", path, diff(string(want), got))
	}
}

// diff is the lines of two texts, what is only in the first marked - and what is only in the second +.
func diff(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	// common[i][j] is how many lines a[i:] and b[j:] have in common.
	common := make([][]int, len(a)+1)
	for i := range common {
		common[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if common[i][j] = max(common[i+1][j], common[i][j+1]); a[i] == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			}
		}
	}
	var out strings.Builder
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			out.WriteString("  " + a[i] + "\n")
			i, j = i+1, j+1
		case j == len(b) || i < len(a) && common[i+1][j] >= common[i][j+1]:
			out.WriteString("- " + a[i] + "\n")
			i++
		default:
			out.WriteString("+ " + b[j] + "\n")
			j++
		}
	}
	return out.String()
}
