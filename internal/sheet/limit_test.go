package sheet

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
)

func TestLimitsTable(t *testing.T) {
	seen := map[LimitName]bool{}
	titles := map[string]bool{}
	for _, l := range Limits {
		if seen[l.Name] || titles[l.Title] {
			t.Errorf("limit %q, %q is there twice", l.Name, l.Title)
		}
		seen[l.Name], titles[l.Title] = true, true
		if !(l.Low >= 0 && l.Low < l.High && l.Low <= l.Default && l.Default <= l.High) {
			t.Errorf("limit %q: default %g, between %g and %g", l.Name, l.Default, l.Low, l.High)
		}
		if !slices.Contains([]string{"mm", "%", "°", "hairs/mm", "µg/cm", "ΔE00", "weeks", "days"}, l.Unit) {
			t.Errorf("limit %q is in %q", l.Name, l.Unit)
		}
		if l.Source == "" || l.Title == "" || strings.HasSuffix(l.Title, ".") || strings.Contains(l.Title, "\n") {
			t.Errorf("limit %q: title %q, source %q", l.Name, l.Title, l.Source)
		}
		if strings.Trim(string(l.Name), "abcdefghijklmnopqrstuvwxyz_") != "" {
			t.Errorf("limit %q is not a plain word", l.Name)
		}
		if info, ok := l.Name.Info(); !ok || info != l {
			t.Errorf("limit %q is found as %+v", l.Name, info)
		}
	}
	if got := LimitFringeDepth.Words(); got != "fringe depth" {
		t.Errorf("the fringe depth is called %q", got)
	}
	if _, ok := LimitName("nonsense").Info(); ok {
		t.Error("there is a limit called nonsense")
	}
}

// Every name in the code is explained in the table.
func TestEveryLimitNameIsInTheTable(t *testing.T) {
	names := limitNames(t)
	if len(names) != len(Limits) {
		t.Errorf("%d names in the code, %d in the table", len(names), len(Limits))
	}
	for constant, name := range names {
		if _, ok := LimitName(name).Info(); !ok {
			t.Errorf("%s is not in the table", constant)
		}
	}
}

// limitNames are the constants of type LimitName in this package's sources.
func limitNames(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]string{}
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			if typ, ok := spec.Type.(*ast.Ident); !ok || typ.Name != "LimitName" {
				return true
			}
			for i, name := range spec.Names {
				if names[name.Name], err = strconv.Unquote(spec.Values[i].(*ast.BasicLit).Value); err != nil {
					t.Fatal(err)
				}
			}
			return true
		})
	}
	return names
}

func TestLimitOfASheet(t *testing.T) {
	s := New(scalp.Sizes[1].Measures)
	if v, source := s.Limit(LimitNape); v != 20 || source != Practice {
		t.Errorf("nape %g, %q", v, source)
	}
	set := s.WithLimit(LimitNape, 25).WithLimit(LimitEar, 12)
	if v, source := set.Limit(LimitNape); v != 25 || source != "set for this client" {
		t.Errorf("nape %g, %q", v, source)
	}
	if v, _ := s.Limit(LimitNape); v != 20 {
		t.Errorf("in the old sheet nape %g", v)
	}
	back := set.WithoutLimit(LimitNape)
	if v, source := back.Limit(LimitNape); v != 20 || source != Practice {
		t.Errorf("put back, nape %g, %q", v, source)
	}
	if v, _ := back.Limit(LimitEar); v != 12 {
		t.Errorf("and ear %g, want 12 still", v)
	}
	if v, _ := set.Limit(LimitNape); v != 25 {
		t.Errorf("in the sheet before, nape %g", v)
	}
	house := set.With(func(c *Sheet) { c.House = map[LimitName]float64{LimitNape: 22, LimitFace: 15} })
	if v, source := house.Limit(LimitFace); v != 15 || source != "set by the studio" {
		t.Errorf("face %g, %q", v, source)
	}
	college := house.With(func(c *Sheet) { c.HouseOf = "Ashgrove College" })
	if v, source := college.Limit(LimitFace); v != 15 || source != "set by Ashgrove College" {
		t.Errorf("face %g, %q", v, source)
	}
	if v, source := college.Limit(LimitNape); v != 25 || source != "set for this client" {
		t.Errorf("nape %g, %q", v, source)
	}
	if got := s.WithoutLimit(LimitNape); len(got.Limits) != 0 {
		t.Errorf("limits %v", got.Limits)
	}
	defer func() {
		if recover() == nil {
			t.Error("a limit that nobody knows has a value")
		}
	}()
	s.Limit("nonsense")
}
