package ledger

import (
	"encoding/csv"
	"maps"
	"strings"
	"testing"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
	"example.org/underveil/internal/visit"
)

// of is what a client takes of each kind, from 2026-11-26 to 2027-01-21.
func of(s *sheet.Sheet) (standing, int, map[kind]Parts) {
	c := shareOf(s, day("2026-11-26"), day("2027-01-21"))
	strands := map[kind]Parts{}
	for k, t := range c.strands {
		if t.New() > 0 {
			strands[k] = t.Parts
		}
	}
	return c.stands, c.tips, strands
}

func TestSharesByHand(t *testing.T) {
	plan := oats(t, map[scalp.MM]string{60: "a.A.(a).A.a", 80: "b.A.(a).B.b"}).With(func(c *sheet.Sheet) { // oat: 4 whole, 3 halves; rye: 2 and 1
		c.Hair.Length = 300 // volume, cut to the own hair
	})
	long := plan.With(func(c *sheet.Sheet) { c.Wish = []sheet.Look{sheet.Length} }).WithLimit(sheet.FigureRetip, 30)
	dated := func(s *sheet.Sheet, date string) *sheet.Sheet {
		return s.With(func(c *sheet.Sheet) { c.Date = date })
	}
	fitted := func(s *sheet.Sheet, date string) *sheet.Sheet { return visited(t, s, sheet.Fitting, date, fitAll) }
	losing := func(s *sheet.Sheet, lost ...sheet.Spot) *sheet.Sheet {
		return visited(t, s, sheet.Inspection, "2026-11-14", func(s *sheet.Sheet, n int) *sheet.Sheet {
			for _, at := range lost {
				s = visit.See(s, n, at, sheet.Lost)
			}
			return markRest(s, n, sheet.Sealed)
		})
	}
	removed := visited(t, fitted(plan, "2026-06-01"), sheet.Removal, "2026-07-27", func(s *sheet.Sheet, n int) *sheet.Sheet {
		return takeOut(t, visit.See(s, n, spot(60, 0), sheet.Lost), n)
	})
	oat, rye := kind{"oat", 500}, kind{"rye crust", 500}
	plain := map[kind]Parts{oat: {Fitting: 6}, rye: {Fitting: 3}}
	for _, c := range []struct {
		name    string
		s       *sheet.Sheet
		stands  standing
		tips    int
		strands map[kind]Parts
	}{
		{"nothing planned", oats(t, nil), neither, 0, nil},
		{"planned, undated", plan, undated, 0, plain},
		{"planned for the last day", dated(plan, "2027-01-21"), fitting, 0, plain},
		{"planned for the day after", dated(plan, "2027-01-22"), later, 0, nil},
		{"planned for today", dated(plan, "2026-11-26"), fitting, 0, plain},
		{"planned for yesterday", dated(plan, "2026-11-25"), past, 0, plain},
		{"begun, nothing in", visited(t, plan, sheet.Fitting, "2026-11-26", func(s *sheet.Sheet, n int) *sheet.Sheet { return s }), fitting, 0, plain},
		{"fitted too lately to be due", fitted(plan, "2026-12-11"), neither, 0, nil},
		{"due on the last day", fitted(plan, "2026-12-10"), returns, 10, nil},
		{"overdue by then", fitted(plan, "2026-09-01"), returns, 10, nil},
		{"three lost: a half, and two wholes of which one was bonded again",
			visit.Replace(losing(fitted(plan, "2026-11-01"), spot(60, -2), spot(60, 0), spot(80, -4)), 1, spot(60, 0), sheet.Bond{Shade: 'b'}),
			returns, 8, map[kind]Parts{oat: {Lost: 1}, rye: {Lost: 1}}},
		// 500 mm were promised, 20 less are forgiven, and 470 are left: all ten are too short, 4 wholes and 3 halves of oat.
		{"too short after re-tipping", fitted(long, "2026-11-01"), returns, 10, map[kind]Parts{oat: {Short: 6}, rye: {Short: 3}}},
		// Of a half lost and two halves too short there is one strand for the lost, and one more.
		{"lost and too short", losing(fitted(long, "2026-11-01"), spot(60, -2)), returns, 9, map[kind]Parts{oat: {Lost: 1, Short: 5}, rye: {Short: 3}}},
		{"long enough after re-tipping", fitted(long.With(func(c *sheet.Sheet) { c.Amounts.Length = 490 }), "2026-11-01"), returns, 10, nil},
		{"never as long as was promised", fitted(long.With(func(c *sheet.Sheet) { c.Amounts.Length = 600 }), "2026-11-01"), returns, 10, nil},
		{"not too short when nothing is cut off", fitted(long.WithLimit(sheet.FigureRetip, 0), "2026-11-01"), returns, 10, nil},
		{"taken out, and not planned again", removed, idle, 0, nil},
		{"taken out, and planned with new strands", dated(removed, "2026-12-01"), fitting, 0, plain},
		// A whole strand of oat was lost; nine pieces wait with new tips. One has to be new.
		{"taken out, and planned with the same strands", dated(visit.Reuse(removed), "2026-12-01"), fitting, 0, map[kind]Parts{oat: {Fitting: 1}}},
		// The ninth is asked for among the used ones, and is not there.
		{"planned with a used strand too many", dated(visit.Reuse(removed).WithBond(sheet.Place{At: 80}, 0, sheet.Bond{Shade: 'c'}), "2026-12-01"), fitting, 0,
			map[kind]Parts{oat: {Fitting: 1, Instead: 1}}},
	} {
		stands, tips, strands := of(c.s)
		if stands != c.stands || tips != c.tips || !maps.Equal(strands, c.strands) {
			t.Errorf("%s: %v, %d tips, %+v\nwant %v, %d tips, %+v", c.name, stands, tips, strands, c.stands, c.tips, c.strands)
		}
	}
}

// What a strand was when it was new is found through all its letters, and a file that leads round in a circle comes to an end.
func TestFirstOf(t *testing.T) {
	s := &sheet.Sheet{Shades: []sheet.Shade{{Key: 'a', Name: "oat", Length: 500}, {Key: 'b', Name: "oat", Length: 490, Used: 1, Was: 'a'}, {Key: 'c', Name: "oat", Length: 480, Used: 2, Was: 'b'},
		{Key: 'd', Name: "round", Length: 400, Used: 1, Was: 'e'}, {Key: 'e', Name: "round", Length: 390, Used: 1, Was: 'd'}, {Key: 'f', Name: "lost", Length: 300, Used: 3}}}
	for key, want := range map[byte]string{'a': "a", 'b': "a", 'c': "a", 'd': "de", 'e': "de", 'f': "f"} {
		h, _ := s.Shade(key)
		if got := firstOf(s, h).Key; !strings.Contains(want, string(rune(got))) {
			t.Errorf("%c was %c first, want %s", key, got, want)
		}
	}
}

// The sums of a folder are those of counting every bond of every sheet by itself, with halves paired by client.
func TestStockAgainstEachBond(t *testing.T) {
	folder, rng := t.TempDir(), seeded(11)
	from, until := day("2026-06-01"), day("2026-06-20")
	tips, due, pieces := 0, 0, map[kind]float64{} // of Lost and Short, in strands
	spread := map[kind]int{}                      // sheets with such
	for i := range fewer(60, 15) {
		s := lifelike(t, rng, day("2026-03-02").AddDate(0, 0, rng.IntN(60)))
		write(t, folder, string(rune('a'+i%26))+"/"+string(rune('a'+i/26))+".toml", s)
		if state := visit.StateOn(s, until); state != visit.Overdue && state != visit.DueNow {
			continue
		}
		in, mine := visit.Now(s), map[kind]float64{}
		tips += len(in)
		due++
		first := func(b sheet.Bond) sheet.Shade {
			h, _ := s.Shade(b.Shade)
			for h.Was != 0 {
				h, _ = s.Shade(h.Was)
			}
			return h
		}
		add := func(b sheet.Bond) { mine[kind{first(b).Name, first(b).Length}] += b.Strands() }
		for _, held := range in {
			h, _ := s.Shade(held.Shade)
			if want := s.StrandLength(); h.Length-10 < want-visit.Forgiven && first(held.Bond).Length >= want {
				add(held.Bond)
			}
		}
		last := len(s.Visits) - 1
		if v := s.Visits[last]; v.Kind == sheet.Inspection { // nothing is bonded again in these, and looked at once
			was := visit.In(s, last)
			for at, mark := range v.Seen {
				if mark == sheet.Lost {
					add(was[at].Bond)
				}
			}
		}
		for k, n := range mine {
			pieces[k] += n
			spread[k]++
		}
	}
	stock, unread, err := StockOf(folder, from, until, &studio.Studio{})
	if err != nil || unread != nil || stock.Tips != tips || stock.Returns != due || stock.Fittings != 0 || due == 0 {
		t.Fatalf("%+v, %v, %v; want %d tips for %d", stock, unread, err, tips, due)
	}
	if len(stock.Needs) != len(pieces) {
		t.Errorf("%d kinds, want %d", len(stock.Needs), len(pieces))
	}
	for _, n := range stock.Needs {
		k := kind{n.Name, n.Length}
		// A half left over opens a strand, of each client at most once.
		if more := float64(n.New()) - pieces[k]; more < 0 || more > float64(n.Clients)/2 || n.Clients != spread[k] {
			t.Errorf("%v: %d strands for %d clients, want %g for %d", k, n.New(), n.Clients, pieces[k], spread[k])
		}
		if n.Needed != n.New()+n.OrderLine.Spare || n.Packs*n.Pack < n.ToBuy {
			t.Errorf("%v: %+v", k, n)
		}
	}
}

// stocked is a studio with some oat in the drawer.
func stocked() *studio.Studio {
	return &studio.Studio{Service: studio.Service{Spare: 10}, Strands: []studio.Strand{
		{Shade: sheet.Shade{Name: "oat", Length: 500, Grams: 0.8, Pack: 20}, OnHand: 7},
		{Shade: sheet.Shade{Name: "rye crust", Length: 400, Grams: 0.8, Pack: 25}, OnHand: 9},
	}}
}

const stockOnAPage = `what the visits from 2026-11-26 to 2027-01-21 take, of 8 sheets

planned fittings: 4, of these 1 without a date, 1 with a date gone by
due back: 1
new tips: 9, one for each piece that is in

new strands                clients  planned  lost  short  spare  drawer    packs
  =1+1, 500 mm                   1        1     0      0      1       0  1 of 25
    not in the studio's stock
  oat, 500 mm                    5       19     1      5      3       7  2 of 20
  rye crust, 500 mm              4        9     0      3      2       0  1 of 25
    not in the studio's stock, which has it in 400 mm
`

func stockFolder(t *testing.T) string {
	folder := t.TempDir()
	plan := oats(t, map[scalp.MM]string{60: "a.A.(a).A.a", 80: "b.A.(a).B.b"}).With(func(c *sheet.Sheet) { c.Hair.Length = 300 })
	dated := func(s *sheet.Sheet, date string) *sheet.Sheet {
		return s.With(func(c *sheet.Sheet) { c.Date = date })
	}
	removed := visited(t, visited(t, plan, sheet.Fitting, "2026-06-01", fitAll), sheet.Removal, "2026-07-27", func(s *sheet.Sheet, n int) *sheet.Sheet {
		return takeOut(t, visit.See(s, n, spot(60, 0), sheet.Lost), n)
	})
	losing := visited(t, plan.With(func(c *sheet.Sheet) { c.Wish = []sheet.Look{sheet.Length} }).WithLimit(sheet.FigureRetip, 30), sheet.Fitting, "2026-11-01", fitAll)
	losing = visited(t, losing, sheet.Inspection, "2026-11-14", func(s *sheet.Sheet, n int) *sheet.Sheet {
		return markRest(visit.See(s, n, spot(60, -2), sheet.Lost), n, sheet.Sealed)
	})
	for file, s := range map[string]*sheet.Sheet{
		"undated.toml": plan, "past.toml": dated(plan, "2026-11-01"), "later.toml": dated(plan, "2027-03-01"), "nothing.toml": oats(t, nil),
		"soon.toml": dated(plan, "2026-12-01").With(func(c *sheet.Sheet) {
			c.Shades = append(c.Shades[:2:2], sheet.Shade{Key: 'c', Name: "=1+1", Length: 500, Grams: 0.8, Pack: 25})
		}).WithBond(sheet.Place{At: 90}, 0, sheet.Bond{Shade: 'c'}),
		"again.toml": dated(visit.Reuse(removed).WithBond(sheet.Place{At: 80}, 0, sheet.Bond{Shade: 'c'}), "2026-12-01"), "idle.toml": removed,
		"due.toml": losing,
	} {
		write(t, folder, file, s)
	}
	return folder
}

func TestStockText(t *testing.T) {
	stock, unread, err := StockOf(stockFolder(t), day("2026-11-26"), day("2027-01-21"), stocked())
	if err != nil || unread != nil {
		t.Fatal(unread, err)
	}
	got := stock.Text(80)
	if page, rest, _ := strings.Cut(got, "\nReckoned"); page != stockOnAPage || rest == "" {
		t.Errorf("%s\nwant\n%s", page, stockOnAPage)
	}
	flat := strings.Join(strings.Fields(got), " ")
	for _, want := range []string{"every strand that comes out is re-tipped once", "Spare are 10 % of what is needed, rounded up.",
		"Of those planned, 1 stand in for strands used before of which there are too few.", "Not counted: 1 fitting planned for later than 2027-01-21.",
		"Not counted: 1 sheet with rows whose strands were taken out; a date of the fitting after that counts them."} {
		if !strings.Contains(flat, want) {
			t.Errorf("%q is not there in\n%s", want, got)
		}
	}
	none, _, _ := StockOf(t.TempDir(), day("2026-11-26"), day("2027-01-21"), &studio.Studio{})
	if got := none.Text(80); !strings.Contains(got, "No new strands are needed.") || !strings.Contains(got, "new tips: 0") || strings.Contains(got, "Spare are") {
		t.Errorf("%s", got)
	}
}

func TestStockCSV(t *testing.T) {
	stock, _, err := StockOf(stockFolder(t), day("2026-11-26"), day("2027-01-21"), stocked())
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := stock.CSV(&b); err != nil {
		t.Fatal(err)
	}
	// 25 strands of oat and 10 % spare are 28; 7 are in the drawer, 21 to buy are two packs of 20, 19 left over.
	const want = `kind,name,length_mm,clients,planned,instead,lost,short,spare,needed,from_drawer,to_buy,pack,packs,left_over,note
tip,,,1,,,,,,9,,,,,,
strand,'=1+1,500,1,1,0,0,0,1,2,0,2,25,1,23,not in the studio's stock
strand,oat,500,5,19,1,1,5,3,28,7,21,20,2,19,
strand,rye crust,500,4,9,0,0,3,2,14,0,14,25,1,11,"not in the studio's stock, which has it in 400 mm"
`
	if got := b.String(); got != strings.ReplaceAll(want, "\n", "\r\n") {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// Whatever the shades are called, no line is wider than the page, all is safe to show, and nothing is taken for a formula.
func TestStockTextKeepsToThePage(t *testing.T) {
	rng := seeded(8)
	names := []string{"=HYPERLINK(1)", "-3", "\x1b[31mred", "山田 花子 mit einem sehr langen Namen für eine Farbe", "oat;=1", "\t@x", "plain"}
	for range fewer(100, 20) {
		stock := Stock{From: day("2026-11-26"), Until: day("2027-01-21"), Undated: rng.IntN(2), Past: rng.IntN(2), Later: rng.IntN(3), Idle: rng.IntN(3), strands: map[kind]*sum{}}
		for range rng.IntN(8) {
			stock.strands[kind{names[rng.IntN(len(names))], scalp.MM(300 + rng.IntN(5000)/7)}] = &sum{Parts{rng.IntN(100000), rng.IntN(3), rng.IntN(5), 1 + rng.IntN(9)}, rng.IntN(10000), 0.8, rng.IntN(30)}
		}
		stock.reckon(stocked())
		width := 80 + rng.IntN(30)
		for line := range strings.Lines(stock.Text(width)) {
			line = strings.TrimSuffix(line, "\n")
			if printable.Width(line) > width || !printable.Clean(line) || strings.TrimRight(line, " ") != line {
				t.Fatalf("a line of %d columns on a page of %d: %q", printable.Width(line), width, line)
			}
		}
		var b strings.Builder
		if err := stock.CSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
		if err != nil || len(rows) != len(stock.Needs)+2 {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		for _, row := range rows {
			for _, cell := range row {
				if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") || strings.Contains(cell, ";=") || !printable.Clean(cell) {
					t.Fatalf("a spreadsheet may take %q for a formula", cell)
				}
			}
		}
	}
}
