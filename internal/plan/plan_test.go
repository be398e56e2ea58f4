package plan_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sync"
	"testing"

	"example.org/underveil/internal/plan"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/studio"
)

// A plan for any client has no stop, and no caution that it would not have with any one of its rows less.
func TestRandomClients(t *testing.T) {
	clients := fewer(500, 16)
	var mu sync.Mutex
	planned, refused, whole := 0, 0, 0
	var wg sync.WaitGroup
	for half := range 2 {
		wg.Go(func() {
			for i := half; i < clients; i += 2 {
				s, table := randomClient(seeded(uint64(i)))
				made := plan.Make(s, table, plan.Means{})
				wrong := faultOf(made, table)
				mu.Lock()
				switch {
				case wrong != "":
					t.Errorf("client %d: %s", i, wrong)
				case made.Refused:
					refused++
				default:
					planned++
				}
				if made.Met() >= plan.Enough {
					whole++
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	t.Logf("%d clients: %d planned, of them %d as wished, %d refused", clients, planned, whole, refused)
	if planned < clients/2 || refused == 0 || whole < clients/10 {
		t.Errorf("%d planned, %d as wished, %d refused: these clients test nothing", planned, whole, refused)
	}
}

// fewer is how many of something are tried: all, or with -short some.
func fewer(all, some int) int {
	if testing.Short() {
		return some
	}
	return all
}

// faultOf says what is wrong with a plan, or nothing.
func faultOf(made plan.Proposal, table *slots.Table) string {
	switch {
	case made.Refused != (made.Sheet.Bonds() == 0):
		return fmt.Sprintf("refused %v, and %d bonds", made.Refused, made.Sheet.Bonds())
	case (made.Refused || made.Met() < plan.Enough) != (made.Binding.Rule != ""):
		return fmt.Sprintf("%.2f of the wish are met, and what binds is %q", made.Met(), made.Binding.Rule)
	case made.Report.Stops > 0:
		return fmt.Sprint(made.Report.Findings[0].Where(), ": ", made.Report.Findings[0].Message())
	}
	fill := false // rows for volume lie over those for length
	for _, r := range made.Sheet.Rows {
		if fill = fill || r.Look == sheet.Volume; fill && r.Look == sheet.Length {
			return "length lies over volume at " + r.Place.String()
		}
	}
	for _, f := range made.Report.Findings {
		if f.Severity != rule.Caution {
			continue
		}
		for _, r := range made.Sheet.Rows {
			less := rule.Check(made.Sheet.WithRow(sheet.Row{Place: r.Place}), table)
			if len(made.Sheet.Rows) > 1 && !slices.ContainsFunc(less.Findings, func(g rule.Finding) bool { return g.Concern == f.Concern }) {
				return fmt.Sprintf("%s, %s: %s; without the row at %s it would not be there", f.Rule, f.Where(), f.Message(), r.Place)
			}
		}
	}
	return ""
}

// The same client gets the same plan.
func TestPlanIsTheSameAgain(t *testing.T) {
	for i := range uint64(fewer(12, 3)) {
		s, table := randomClient(seeded(1000 + i))
		one, other := plan.Make(s, table, plan.Means{}), plan.Make(s, tableOf(t, s), plan.Means{})
		if !slices.EqualFunc(one.Sheet.Rows, other.Sheet.Rows, sheet.Row.Equal) || one.Value != other.Value {
			t.Errorf("client %d: two plans\n%s\n%s", i, listed(one.Sheet), listed(other.Sheet))
		}
	}
}

// A head that is the same on both sides gets a plan that is, but for one bond in a row at most.
func TestPlanMirrors(t *testing.T) {
	rows := 0
	for i := range uint64(fewer(40, 8)) {
		s, _ := randomClient(seeded(2000 + i))
		s = s.With(func(c *sheet.Sheet) {
			c.KeepOff = nil
			c.Partings = []scalp.Parting{{Length: 60 + scalp.MM(10*(i%8))}}
		})
		for _, r := range plan.Make(s, tableOf(t, s), plan.Means{}).Sheet.Rows {
			alone := 0
			for slot := range r.All() {
				if r.Bond(-slot) != r.Bond(slot) {
					alone++
				}
			}
			if rows++; alone > 1 {
				t.Errorf("client %d: %d bonds have no partner in %s: %s", i, alone, r.Place, r.Text())
			}
		}
	}
	if rows < fewer(100, 20) {
		t.Errorf("%d rows are too few to say anything", rows)
	}
}

// On a mirrored head the plan is the mirror image: which side a parting lies on makes no difference.
func TestPlanOfTheMirrorImage(t *testing.T) {
	for i := range uint64(fewer(12, 3)) {
		s, table := randomClient(seeded(3000 + i))
		mirrored := s.With(func(c *sheet.Sheet) {
			c.Partings, c.KeepOff = slices.Clone(c.Partings), slices.Clone(c.KeepOff)
			for k := range c.Partings {
				c.Partings[k].Right = -c.Partings[k].Right
			}
			for k := range c.KeepOff {
				c.KeepOff[k].Right = -c.KeepOff[k].Right
			}
		})
		one, other := plan.Make(s, table, plan.Means{}), plan.Make(mirrored, tableOf(t, mirrored), plan.Means{})
		if math.Abs(one.Met()-other.Met()) > 0.02 || math.Abs(one.Value-other.Value) > 0.02 {
			t.Errorf("client %d: %.3f of the wish, worth %.4f; mirrored %.3f, worth %.4f", i, one.Met(), one.Value, other.Met(), other.Value)
		}
	}
}

// ordinary is a client of ordinary measures and hair, who wishes for some looks.
func ordinary(wish ...sheet.Look) *sheet.Sheet {
	return sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) { c.Wish = wish })
}

// stepsOf are how far apart the bonds of a row lie, from one to the next.
func stepsOf(r sheet.Row) map[int]int {
	steps, before := map[int]int{}, 0
	for slot := range r.All() {
		if slot != r.First() {
			steps[slot-before]++
		}
		before = slot
	}
	return steps
}

// Where the hair is thin, and there alone, the strands are split.
func TestThinSidesAreSplit(t *testing.T) {
	s := ordinary(sheet.Volume).With(func(c *sheet.Sheet) {
		c.Hair.Count = 160
		c.Amounts.Volume = 30
		c.Shades = []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Grams: 0.9, Pack: 25}}
	})
	table := tableOf(t, s)
	made := plan.Make(s, table, plan.Means{})
	hair := rule.HairOf(s, table)
	split, whole := 0, 0
	for _, r := range made.Sheet.Rows {
		line, err := table.Line(r.Place)
		if err != nil {
			t.Fatal(err)
		}
		for slot, b := range r.All() {
			// 150 % of a whole strand of 0.8 g on 8 by 4.5 mm of 190 hairs/cm², worked out here again.
			most := 1.5 * 0.8 / (1.9 * 8 * 4.5)
			carries := 0.9/(float64(hair.Here(line.At(slot)))/100*8*4.5) <= most*1.0005
			if b.Split == carries {
				t.Errorf("%s, slot %d: split is %v on hair of %.0f/cm²", r.Place, slot, b.Split, float64(hair.Here(line.At(slot))))
			}
			if !b.Split {
				whole++
				continue
			}
			split++
			if line.ID.Kind == scalp.Level && slot > -7 && slot < 7 {
				t.Errorf("%s, slot %d is in the middle of the back and split", r.Place, slot)
			}
		}
	}
	if split < 10 || whole < 30 {
		t.Errorf("%d bonds are split at the sides, %d whole\n%s", split, whole, listed(made.Sheet))
	}
}

// Highlights alone are every third or fourth slot, in few rows, no more of them than were wished for.
func TestHighlightsAlone(t *testing.T) {
	s := ordinary(sheet.Highlights)
	made := plan.Make(s, tableOf(t, s), plan.Means{})
	if made.Met() != 1 || made.Sheet.Bonds() != sheet.UsualHighlights {
		t.Errorf("%d bonds, %.2f of the wish", made.Sheet.Bonds(), made.Met())
	}
	if n := len(made.Sheet.Rows); n < 2 || n > 5 {
		t.Errorf("%d rows", n)
	}
	for _, r := range made.Sheet.Rows {
		steps := stepsOf(r)
		if steps[1]+steps[2] > 0 || 2*(steps[3]+steps[4]) < r.Count()-1 || r.Look != sheet.Highlights {
			t.Errorf("%s for %s: %s", r.Place, r.Look, r.Text())
		}
	}
}

// The first parting lies just below the occipital bone, and the rows for length lie under those for volume.
func TestOrderOfRows(t *testing.T) {
	s := ordinary(sheet.Length, sheet.Volume).With(func(c *sheet.Sheet) { c.Amounts.Volume = 35 })
	for _, bone := range []float64{65, 95} {
		s := s.WithLimit(sheet.FigureOcciput, bone)
		rows := plan.Make(s, tableOf(t, s), plan.Means{}).Sheet.Rows
		if len(rows) < 4 {
			t.Fatalf("%d rows", len(rows))
		}
		if at := float64(rows[0].At); at > bone || at < bone-10 {
			t.Errorf("the first parting is at %g mm, and the bone at %g", at, bone)
		}
		above := sheet.Length
		for _, r := range rows {
			if r.Look == sheet.Length && above == sheet.Volume {
				t.Errorf("%s is for length, above one for volume", r.Place)
			}
			above = r.Look
		}
	}
}

// Who has hair too short or too thin is told so, with what binds, and gets no rows.
func TestRefusal(t *testing.T) {
	for name, c := range map[string]struct {
		hair sheet.Hair
		worn []sheet.Wear
		rule string
	}{
		"too short":                      {sheet.Hair{Length: 45, Density: "medium"}, []sheet.Wear{sheet.WornDown}, "thin-veil"},
		"too short to tie":               {sheet.Hair{Length: 90, Density: "medium"}, []sheet.Wear{sheet.WornHighTail}, "shows-up"},
		"too thin":                       {sheet.Hair{Length: 300, Count: 62}, []sheet.Wear{sheet.WornDown, sheet.WornHalfUp}, ""},
		"too thin for so heavy a strand": {sheet.Hair{Length: 600, Density: "medium"}, []sheet.Wear{sheet.WornDown}, "load"},
	} {
		s := ordinary(sheet.Volume).With(func(o *sheet.Sheet) { o.Hair, o.Worn = c.hair, c.worn })
		if c.rule == "load" {
			s = s.With(func(o *sheet.Sheet) { o.Shades[0].Grams = 5 })
		}
		made := plan.Make(s, tableOf(t, s), plan.Means{})
		if !made.Refused || made.Sheet.Bonds() > 0 || made.Binding.Rule == "" || made.Binding.What == "" || c.rule != "" && made.Binding.Rule != c.rule {
			t.Errorf("%s: refused %v, %d bonds, because of %s: %s", name, made.Refused, made.Sheet.Bonds(), made.Binding.Rule, made.Binding.What)
		}
	}
}

// What would help is tried out: a client who gives it gets the share of the wish that was said.
func TestLoosen(t *testing.T) {
	s := ordinary(sheet.Volume).With(func(c *sheet.Sheet) { c.Worn = []sheet.Wear{sheet.WornDown, sheet.WornHighTail} })
	s = s.With(func(c *sheet.Sheet) { c.Hair.Length, c.Hair.Count, c.Amounts.Volume = 260, 130, 35 })
	made := plan.Make(s, tableOf(t, s), plan.Means{})
	if made.Met() >= plan.Enough {
		t.Fatalf("%.2f of the wish are met: there is nothing to loosen", made.Met())
	}
	found := made.Loosen()
	at := slices.IndexFunc(found, func(r plan.Remedy) bool { return r.What == "not worn in a high ponytail" })
	if at < 0 {
		t.Fatalf("nothing is said of the ponytail: %+v", found)
	}
	down := s.With(func(c *sheet.Sheet) { c.Worn = []sheet.Wear{sheet.WornDown} })
	if met := plan.Make(down, tableOf(t, down), plan.Means{}).Met(); math.Abs(met-found[at].Met) > 1e-9 || met <= made.Met() {
		t.Errorf("without the ponytail %.3f of the wish are met, and %.3f were said; with it %.3f", met, found[at].Met, made.Met())
	}
	if !slices.IsSortedFunc(found, func(a, b plan.Remedy) int { return int(math.Copysign(1, b.Met-a.Met)) }) && len(found) > 1 {
		t.Errorf("the most helpful is not first: %+v", found)
	}
}

// listed is the rows of a sheet, a line each.
func listed(s *sheet.Sheet) string {
	text := ""
	for _, r := range s.Rows {
		text += fmt.Sprintf("  %s, %s: %s\n", r.Place, r.Look, r.Text())
	}
	return text
}

func BenchmarkMake(b *testing.B) {
	const clients = 60
	sheets, grounds := make([]*sheet.Sheet, clients), make([]*slots.Table, clients)
	for i := range sheets {
		sheets[i], grounds[i] = randomClient(seeded(uint64(i)))
	}
	for i := 0; b.Loop(); i++ {
		s := sheets[i%clients]
		fresh := s.With(func(c *sheet.Sheet) { c.Hair.Length += scalp.MM(1e-6 * float64(i+1)) }) // or its covers would be there already
		table, err := slots.For(fresh, grounds[i%clients])
		if err != nil {
			b.Fatal(err)
		}
		plan.Make(fresh, table, plan.Means{})
	}
}

// Bonds near the temples are trimmed, and no others.
func TestTrimmedAtTheSides(t *testing.T) {
	s := ordinary(sheet.Length, sheet.Volume).With(func(c *sheet.Sheet) { c.Amounts.Volume = 45 })
	table := tableOf(t, s)
	trimmed := 0
	for _, r := range plan.Make(s, table, plan.Means{}).Sheet.Rows {
		line, err := table.Line(r.Place)
		if err != nil {
			t.Fatal(err)
		}
		for slot, b := range r.All() {
			near := line.ID.Kind == scalp.Level && line.At(slot).Temple < 44.95
			if b.Trimmed != near {
				t.Errorf("%s, slot %d: trimmed is %v, %.1f mm from the temple", r.Place, slot, b.Trimmed, float64(line.At(slot).Temple))
			}
			if b.Trimmed {
				trimmed++
			}
		}
	}
	if trimmed < 4 {
		t.Errorf("%d bonds are trimmed: the rows do not reach the sides", trimmed)
	}
}

// Where the own hair carries only so many grams the plan adds nearly that, and not more, and says that this is what binds.
func TestTotalLoadBinds(t *testing.T) {
	s := ordinary(sheet.Volume).With(func(c *sheet.Sheet) {
		c.Hair.Length, c.Amounts.Volume = 240, 40
		c.Partings = nil
	}).WithLimit(sheet.LimitTotalLoad, 50)
	table := tableOf(t, s)
	made := plan.Make(s, table, plan.Means{})
	hair := rule.HairOf(s, table)
	most, added := 0.5*hair.Grams(), 0.0
	for _, r := range made.Sheet.Rows {
		for _, b := range r.All() {
			added += made.Sheet.Shades[0].GramsOf(b)
		}
	}
	if made.Binding.Rule != "total-load" || added > most || added < 0.97*most {
		t.Errorf("%.1f g are added of %.1f, held by %s: %s", added, most, made.Binding.Rule, made.Binding.What)
	}
}

// Where no row can serve length, for the holes are too near each other, no hair is added for it.
func TestNoHairForALengthThatCannotBe(t *testing.T) {
	s := ordinary(sheet.Length, sheet.Volume).With(func(c *sheet.Sheet) { c.HoleSpacing, c.LineGap, c.Amounts.Volume = 5, 14, 12 })
	made := plan.Make(s, tableOf(t, s), plan.Means{})
	length, volume := made.Looks[0], made.Looks[1]
	if length.Got != 0 || length.Wanted == 0 || made.Binding.Rule != "bond-gap" {
		t.Errorf("%.0f of %.0f for length, held by %s: %s", length.Got, length.Wanted, made.Binding.Rule, made.Binding.What)
	}
	if volume.Share() < plan.Enough || volume.Got > 1.1*volume.Wanted {
		t.Errorf("%.0f hairs are added, and %.0f were wished for", volume.Got, volume.Wanted)
	}
}

// The strands are those asked for; for highlights the last shade of the sheet that is not used for the rest.
func TestStrandsOfAPlan(t *testing.T) {
	shades := []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Grams: 0.8, Pack: 25}, {Key: 'b', Name: "bran", Length: 500, Grams: 0.8, Pack: 25},
		{Key: 'c', Name: "straw", Length: 500, Grams: 0.8, Pack: 25}}
	for _, c := range []struct {
		wish         []sheet.Look
		repeat       string
		main, lights string
	}{
		{[]sheet.Look{sheet.Volume}, "", "a", ""},
		{[]sheet.Look{sheet.Volume}, "ab", "ab", ""},
		{[]sheet.Look{sheet.Volume, sheet.Highlights}, "ab", "ab", "c"},
		{[]sheet.Look{sheet.Highlights}, "", "", "c"},
		{[]sheet.Look{sheet.Highlights}, "b", "", "c"},
		{[]sheet.Look{sheet.Volume, sheet.Highlights}, "c", "c", "b"},
	} {
		s := ordinary(c.wish...).With(func(s *sheet.Sheet) { s.Shades = shades })
		used := map[sheet.Look]map[byte]bool{}
		for _, r := range plan.Make(s, tableOf(t, s), plan.Means{Repeat: c.repeat}).Sheet.Rows {
			if used[r.Look] == nil {
				used[r.Look] = map[byte]bool{}
			}
			for _, b := range r.All() {
				used[r.Look][b.Shade] = true
			}
		}
		if main, lights := string(slices.Sorted(maps.Keys(used[sheet.Volume]))), string(slices.Sorted(maps.Keys(used[sheet.Highlights]))); main != c.main || lights != c.lights {
			t.Errorf("%v, %q: %q for volume and %q for highlights", c.wish, c.repeat, main, lights)
		}
	}
}

// Where the client's colour was read the plan takes the best match in stock, of the length that is wished for.
func TestPlanTakesTheMatch(t *testing.T) {
	strand := func(name string, length scalp.MM, colour shade.Reading) studio.Strand {
		return studio.Strand{Shade: sheet.Shade{Name: name, Length: length, Grams: 0.8, Pack: 25, Colour: colour}}
	}
	stock := &studio.Studio{Strands: []studio.Strand{strand("oat", 500, "60 9 24"), strand("oat", 600, "60 9 24"), strand("peat", 600, "20 5 7")}}
	s := ordinary(sheet.Length, sheet.Volume).With(func(c *sheet.Sheet) { c.Amounts.Length, c.Hair.Ends = 550, "60.3 9 24" })
	made := plan.Make(s, tableOf(t, s), plan.Means{Stock: stock})
	for _, r := range made.Sheet.Rows {
		for slot, b := range r.All() {
			if h, _ := made.Sheet.Shade(b.Shade); h.Name != "oat" || h.Length != 600 {
				t.Fatalf("%s, slot %d is %s, %g mm", r.Place, slot, h.Name, float64(h.Length))
			}
		}
	}
	if len(made.Sheet.Rows) == 0 || made.Report.Cautions > 0 {
		t.Errorf("%d rows, %d cautions", len(made.Sheet.Rows), made.Report.Cautions)
	}
}

// Strands shorter than the length that is wished for do not meet it, and the plan says so.
func TestStrandsTooShortForTheWish(t *testing.T) {
	s := ordinary(sheet.Length, sheet.Volume).With(func(c *sheet.Sheet) { c.Amounts.Length = 1000 })
	made := plan.Make(s, tableOf(t, s), plan.Means{})
	if length := made.Looks[0]; length.Share() > 0.5 || made.Met() >= plan.Enough {
		t.Errorf("strands of 500 mm meet %.2f of a length of 1000 mm", length.Share())
	}
	if made.Binding.Rule != "strands" || made.Binding.What != "the strands are 500 mm long, and 1000 mm are wished for" {
		t.Errorf("held by %s: %s", made.Binding.Rule, made.Binding.What)
	}
}

// Over the head there are as many strands of each shade as in the repeat, to a pair, and both sides are alike.
func TestBlendKeepsItsShares(t *testing.T) {
	s := ordinary(sheet.Volume).With(func(c *sheet.Sheet) {
		c.Shades = []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Grams: 0.8, Pack: 25}, {Key: 'b', Name: "bran", Length: 500, Grams: 0.8, Pack: 25},
			{Key: 'c', Name: "straw", Length: 500, Grams: 0.8, Pack: 25}}
	})
	made := plan.Make(s, tableOf(t, s), plan.Means{Repeat: "aabaac"})
	strands, all := map[byte]float64{}, 0.0
	for _, r := range made.Sheet.Rows {
		for slot, b := range r.All() {
			if r.Bond(-slot) != b {
				t.Errorf("%s: slot %d is not like its partner", r.Place, slot)
			}
			n := 1.0
			if b.Split {
				n = 0.5
			}
			strands[b.Shade] += n
			all += n
		}
	}
	for key, share := range map[byte]float64{'a': 4. / 6, 'b': 1. / 6, 'c': 1. / 6} {
		if off := math.Abs(strands[key] - share*all); off > 2 {
			t.Errorf("%g of %g strands are %c, %.1f from its share", strands[key], all, key, off)
		}
	}
}

// A plan made of a plan keeps the shade of the highlights, though strands from stock were put on the sheet since.
func TestPlanOfAPlan(t *testing.T) {
	stock := &studio.Studio{Strands: []studio.Strand{{Shade: sheet.Shade{Name: "rye crust", Length: 500, Grams: 0.8, Pack: 25, Colour: "#8a5a32"}}}}
	for _, wish := range [][]sheet.Look{{sheet.Volume, sheet.Highlights}, {sheet.Highlights}} {
		s := ordinary(wish...).With(func(c *sheet.Sheet) {
			c.Hair.Mid = "#8a5a32"
			c.Shades = []sheet.Shade{{Key: 'a', Name: "own", Length: 500, Grams: 0.8, Pack: 25}, {Key: 'b', Name: "platinum", Length: 500, Grams: 0.8, Pack: 25}}
		})
		for range 2 {
			s = plan.Make(s, tableOf(t, s), plan.Means{Stock: stock}).Sheet
			for _, r := range s.Rows {
				for slot, b := range r.All() {
					h, _ := s.Shade(b.Shade)
					if want := map[bool]string{true: "platinum", false: "rye crust"}[r.Look == sheet.Highlights]; h.Name != want {
						t.Fatalf("%v: %s for %s, slot %d is %s", wish, r.Place, r.Look, slot, h.Name)
					}
				}
			}
		}
		if len(s.Shades) != map[int]int{1: 2, 2: 3}[len(wish)] || s.Bonds() == 0 {
			t.Errorf("%v: %d shades, %d bonds", wish, len(s.Shades), s.Bonds())
		}
	}
}

// With a blend limit of nothing length is still some hair, and not a head full of it.
func TestNoBlendLimit(t *testing.T) {
	s := ordinary(sheet.Length).WithLimit(sheet.LimitBlend, 0)
	if made := plan.Make(s, tableOf(t, s), plan.Means{}); made.Sheet.Bonds() < 4 || made.Sheet.Bonds() > 60 {
		t.Errorf("%d bonds", made.Sheet.Bonds())
	}
}
