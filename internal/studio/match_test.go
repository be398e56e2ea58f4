package studio_test

import (
	"math"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/studio"
)

// stock is the studio that comes with the program.
func stock(t *testing.T) *studio.Studio {
	t.Helper()
	st, notices, err := sheetfile.DecodeStudio("studio.toml", assets.Studio)
	if err != nil || len(notices) > 0 {
		t.Fatal(notices, err)
	}
	return st
}

// client is a client whose colour was read.
func client(reading shade.Reading) *sheet.Sheet {
	return sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) {
		c.Hair.Ends, c.Hair.Mid, c.Hair.Texture = reading, "10 0 0", ""
		c.Wish = []sheet.Look{sheet.Volume, sheet.Length}
	})
}

// The best blend of the stock that comes with the program is the best of all repeats of up to six strands in it of at most three
// shades, one written after another, as brute force tries them.
func TestMatchAgainstEveryRepeat(t *testing.T) {
	st := stock(t)
	readings := []shade.Reading{"#8a5a32", "#3a2a20", "60 9 24", "45.2 9.1 18.4", "22 5 7", "78 4 22", "50 20 40"}
	if testing.Short() {
		readings = readings[:2]
	}
	for _, reading := range readings {
		s := client(reading)
		strands := st.Suitable(s)
		if len(strands) < 5 {
			t.Fatalf("%d strands are no stock to blend", len(strands))
		}
		least, seen := math.Inf(1), 0
		var repeat []*studio.Strand
		var try func()
		try = func() {
			if n := len(repeat); n > 0 {
				kinds := map[*studio.Strand]bool{}
				parts := make([]shade.Part, n)
				for i, strand := range repeat {
					kinds[strand] = true
					parts[i] = shade.Part{Colour: strand.Colour.Lab(), Share: 1}
				}
				if len(kinds) > 3 {
					return
				}
				seen++
				least = math.Min(least, shade.Difference(reading.Lab(), shade.Mix(parts)))
				if n == 6 {
					return
				}
			}
			for _, strand := range strands {
				if n := len(repeat); n > 0 && strand.Name < repeat[n-1].Name {
					continue // the same strands in another order
				}
				repeat = append(repeat, strand)
				try()
				repeat = repeat[:len(repeat)-1]
			}
		}
		try()
		best := math.Inf(1)
		for _, b := range st.Matches(s) {
			best = math.Min(best, b.Difference)
		}
		if math.Abs(best-least) > 1e-9 {
			t.Errorf("%s: %.6f off, and the best of %d repeats %.6f", reading, best, seen, least)
		}
		if made := st.Match(s); made.Difference > least+1e-9 && made.Difference > shade.Perceptible {
			t.Errorf("%s: %s is taken, %.3f off, and the best is %.3f", reading, made, made.Difference, least)
		}
	}
}

// One shade is taken as long as the eye hardly sees the difference, though a blend may be nearer.
func TestMatchPrefersOneShade(t *testing.T) {
	strand := func(name string, colour shade.Reading) studio.Strand {
		return studio.Strand{Shade: sheet.Shade{Name: name, Length: 500, Colour: colour}}
	}
	st := &studio.Studio{Strands: []studio.Strand{strand("oat", "60 9 24"), strand("bran", "62 9 24")}}
	s := client("60.6 9 24")
	b := st.Match(s)
	if b.String() != "oat" || b.Difference == 0 || b.Difference > shade.Perceptible || !b.Close(s) {
		t.Errorf("for a colour close to oat %s is taken, %.3f off", b, b.Difference)
	}
	nearer := false
	for _, other := range st.Matches(s) {
		nearer = nearer || other.Difference < b.Difference
	}
	if !nearer {
		t.Error("no blend is nearer, so nothing was preferred")
	}
}

// Strands are as long as is wanted or a little longer, or else as long as there are; and of the client's texture where there
// are any.
func TestSuitable(t *testing.T) {
	strand := func(name string, length scalp.MM, texture string) studio.Strand {
		return studio.Strand{Shade: sheet.Shade{Name: name, Length: length, Colour: "#8a5a32", Texture: texture}}
	}
	st := &studio.Studio{Strands: []studio.Strand{strand("a", 400, "straight"), strand("b", 500, "straight"), strand("c", 600, "wavy"), strand("d", 600, ""),
		{Shade: sheet.Shade{Name: "unread", Length: 500}}}}
	for _, c := range []struct {
		wanted  scalp.MM
		texture string
		want    string
		others  bool
	}{
		{450, "", "b", false}, {500, "", "b", false}, {501, "", "c", false}, {700, "", "c", false}, {100, "", "a", false},
		{550, "straight", "b", false}, {300, "wavy", "c", true}, {300, "coily", "a", false},
	} {
		s := client("#8a5a32").With(func(s *sheet.Sheet) { s.Hair.Texture, s.Amounts.Length = c.texture, c.wanted })
		found := st.Suitable(s)
		if c.want == "c" && c.texture == "" { // and the one that nobody has felt
			found = found[:len(found)-1]
		}
		if len(found) != 1 || found[0].Name != c.want || st.LeavesOut(s) != c.others {
			t.Errorf("%g mm, %q: %d strands, want %s", float64(c.wanted), c.texture, len(found), c.want)
		}
	}
}

// Taking a blend puts its strands on the sheet, and what is there already keeps its letter and its toning.
func TestTake(t *testing.T) {
	st := stock(t)
	oat, rye := st.Find("oat", 500), st.Find("rye crust", 500)
	s := client("#8a5a32").With(func(c *sheet.Sheet) {
		c.Shades = []sheet.Shade{{Key: 'q', Name: "rye crust", Length: 500, Grams: 1, Pack: 10, Toned: "a tone warmer"}}
	})
	next, repeat := studio.Blend{Repeat: []*studio.Strand{oat, rye, oat}}.Take(s)
	if repeat != "aqa" || len(next.Shades) != 2 {
		t.Fatalf("%q, %+v", repeat, next.Shades)
	}
	if h, _ := next.Shade('q'); h.Grams != rye.Grams || h.Pack != rye.Pack || h.Toned != "a tone warmer" || h.Colour != rye.Colour {
		t.Errorf("the shade that was there is %+v", h)
	}
	if h, _ := next.Shade('a'); h.Name != "oat" || h.Colour != oat.Colour {
		t.Errorf("the new shade is %+v", h)
	}
	if len(s.Shades) != 1 || s.Shades[0].Grams != 1 {
		t.Errorf("the sheet itself has changed: %+v", s.Shades)
	}
	full := s.With(func(c *sheet.Sheet) {
		c.Shades = nil
		for k := byte('a'); k <= 'z'; k++ {
			c.Shades = append(c.Shades, sheet.Shade{Key: k, Name: "another"})
		}
	})
	if same, repeat := (studio.Blend{Repeat: []*studio.Strand{oat}}).Take(full); repeat != "" || same != full {
		t.Errorf("with all letters taken the repeat is %q", repeat)
	}
}

// A studio's own limits hold where the client has none, and say where they are from.
func TestHouse(t *testing.T) {
	st := &studio.Studio{Limits: map[sheet.LimitName]float64{sheet.LimitNape: 30, sheet.LimitEar: 12}}
	s := st.House(client("").WithLimit(sheet.LimitEar, 9))
	for name, want := range map[sheet.LimitName]float64{sheet.LimitNape: 30, sheet.LimitEar: 9, sheet.LimitTemple: 25} {
		if v, source := s.Limit(name); v != want || source == "" {
			t.Errorf("%s: %g (%s), want %g", name, v, source, want)
		}
	}
	if _, source := s.Limit(sheet.LimitNape); source != "set by the studio" {
		t.Errorf("the source is %q", source)
	}
	st.LimitsOf = "Ashgrove College"
	if _, source := st.House(s).Limit(sheet.LimitNape); source != "set by Ashgrove College" {
		t.Errorf("the source is %q", source)
	}
	if plain := client(""); (&studio.Studio{}).House(plain) != plain {
		t.Error("a studio without limits makes another sheet")
	}
}
