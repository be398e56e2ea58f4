package card_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/card"
	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/care"
	"example.org/underveil/internal/golden"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/visit"
)

// fingerprints are the bytes of some cards in all forms, each as a sum.
func fingerprints(t testing.TB) string {
	var b strings.Builder
	for _, name := range []string{"salon", "names", "big"} {
		c := cardOf(t, load(t, name), page.A4)
		pdf, err := c.PDF()
		if err != nil {
			t.Fatal(err)
		}
		for _, data := range append(c.SVG(), pdf, []byte(c.Text(false)), []byte(c.Text(true))) {
			fmt.Fprintf(&b, "%s %x\n", name, sha256.Sum256(data))
		}
	}
	return b.String()
}

// The same sheet gives the same bytes, twice in one process and in another one.
func TestSameBytes(t *testing.T) {
	here := fingerprints(t)
	if os.Getenv("CARD_FINGERPRINTS") != "" {
		if err := os.WriteFile(os.Getenv("CARD_FINGERPRINTS"), []byte(here), 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	if again := fingerprints(t); again != here {
		t.Error("the same sheets give other bytes the second time")
	}
	file := t.TempDir() + "/sums"
	other := exec.Command(os.Args[0], "-test.run=^TestSameBytes$")
	other.Env = append(os.Environ(), "CARD_FINGERPRINTS="+file)
	if out, err := other.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	there, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(there) != here {
		t.Error("the same sheets give other bytes in another process")
	}
}

func TestTextGolden(t *testing.T) {
	golden.Compare(t, "testdata/salon.txt", cardOf(t, load(t, "salon"), page.A4).Text(false))
	golden.Compare(t, "testdata/salon-ascii.txt", cardOf(t, load(t, "salon"), page.A4).Text(true))
	golden.Compare(t, "testdata/big.txt", cardOf(t, load(t, "big"), page.A4).Text(false))
}

func TestTextIsNarrowAndSafe(t *testing.T) {
	list := sheets(t)
	list["hostile"] = hostile()
	list["close"] = sheet.New(scalp.Sizes[3].Measures).With(func(c *sheet.Sheet) { c.HoleSpacing, c.LineGap = 4, 5 })
	for name, s := range list {
		for _, ascii := range []bool{false, true} {
			for line := range strings.Lines(cardOf(t, s, page.A4).Text(ascii)) {
				line = strings.TrimSuffix(line, "\n")
				if w := printable.Width(line); w > 80 {
					t.Errorf("%s: %d columns: %s", name, w, line)
				}
				if !printable.Clean(line) {
					t.Errorf("%s: not safe to show: %q", name, line)
				}
			}
		}
	}
	for _, r := range cardOf(t, load(t, "salon"), page.A4).Text(true) {
		if r > 0x7E {
			t.Errorf("%q is no ASCII", r)
		}
	}
}

// hostile is a sheet whose texts do what texts can do.
func hostile() *sheet.Sheet {
	const bad = "a\x1b[2Jb\u202Ec\u2066d\u2068e\r\nf\u0007</title><script>"
	s := sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) {
		c.Title, c.Client, c.Date, c.Notes = bad, bad, bad, bad
		c.Shades[0].Name, c.Shades[0].Toned = bad, bad
		c.KeepOff = []sheet.KeepOff{{Height: 100, Right: 20, Radius: 10, Why: bad}}
		c.Asked.PatchTest, c.Asked.Agreed = bad, bad
		c.Visits = []sheet.Visit{{Kind: sheet.Fitting, Date: bad, By: bad}}
	}).WithBonds(sheet.Place{At: 10}, map[int]sheet.Bond{0: {Shade: 'a'}, 60: {Shade: 'a'}, -200: {Shade: 'z'}})
	return s.WithAccepted(sheet.Accepted{Concern: sheet.Concern{Rule: "nape", Row: sheet.Place{At: 10}, On: sheet.OnSlot}, Reason: bad, By: bad, Date: bad})
}

func TestHostileTextStaysText(t *testing.T) {
	c := cardOf(t, hostile(), page.A4)
	for _, data := range c.SVG() {
		for _, bad := range []string{"<script", "\x1b", "\u202E", "\u2066"} {
			if bytes.Contains(data, []byte(bad)) {
				t.Errorf("%q is in the SVG", bad)
			}
		}
	}
	if _, err := c.PDF(); err != nil {
		t.Error(err)
	}
}

// What the card says of a sheet, in its own words.
func TestWhatIsSaid(t *testing.T) {
	salon := cardOf(t, load(t, "salon"), page.A4).Text(false)
	big := cardOf(t, load(t, "big"), page.A4).Text(false)
	empty := cardOf(t, load(t, "empty"), page.A4).Text(false)
	for _, it := range []struct{ in, want string }{
		{salon, "4 stops, 2 cautions not accepted"},
		{salon, "3 h 5 min in the chair"},
		{salon, "a oat: 39 strands and 2 spare"},
		{salon, "17 pieces of strip"},
		{salon, "Patch test: 20 February 2026. Agreed: 20 February 2026."},
		{salon, "Accepted: low bun only, agreed with the client (R, 2 March 2026)"},
		{salon, "61 bonds, 46.4 g of hair, for the fitting on Monday 2 March 2026."},
		{salon, "by Monday 16 March 2026"},
		{salon, "from Monday 13 April 2026 to Monday 27 April 2026"},
		{salon, "about 15 to 20 mm"},         // 42 and 56 days at 0.35 mm
		{salon, "about 5 to 7 of every 100"}, // 12 % over 100 days: 5.0 and 6.7 %
		{salon, "sample studio\n  ____"},
		{big, "Yes to a scalp that is sore, itches, flakes or is broken"},
		{big, "Not asked: a reaction to adhesive, solvent, latex or hair colour."},
		{big, "Agreed: no date on the sheet."},
		{big, "toned before: half a tone darker"},
		{empty, "No bond is placed on the sheet yet."},
		{empty, "None of the 7 questions about scalp and skin was asked."},
		{empty, "client ________________   date ________________   by ________________"},
		{empty, "within two weeks of the fitting"},
		{empty, "six to eight weeks after the fitting"},
	} {
		if joined := strings.Join(strings.Fields(it.in), " "); !strings.Contains(it.in, it.want) && !strings.Contains(joined, it.want) {
			t.Errorf("the card does not say %q", it.want)
		}
	}
	// The cautions stand beside their steps, on the page as in the text.
	for _, st := range care.Fitting {
		joined := strings.Join(strings.Fields(salon), " ")
		if i := strings.Index(joined, st.Do); i < 0 || st.Caution != "" && !strings.HasPrefix(joined[i+len(st.Do):], " ! "+st.Caution) {
			t.Errorf("%q does not stand with its caution", st.Do)
		}
	}
}

// The pages say what the text says, word for word, but for the map and what only one of them has.
func TestThePagesSayTheSame(t *testing.T) {
	everyCard(t, func(t *testing.T, _ *sheet.Sheet, c *card.Card) {
		var drawn strings.Builder
		for _, p := range c.Pages {
			for _, text := range texts(p) {
				drawn.WriteString(text.Text + " ")
			}
		}
		bare := func(text string) string { return strings.Join(strings.Fields(text), " ") }
		all := bare(drawn.String())
		_, rest, _ := strings.Cut(c.Text(false), "\nin all\n")
		for _, line := range strings.Split(rest, "\n") {
			for _, word := range strings.Fields(line) {
				if word = strings.Trim(word, "[]()!-_:;.,0123456789"); word != "" && !strings.Contains(all, word) && !sections[word] {
					t.Errorf("%q is in the text and not on the pages", word)
				}
			}
		}
	})
}

// sections are words of the headings of the text, which begin in lower case there.
var sections = map[string]bool{"lay": true, "step": true, "accepted": true, "when": true, "every": true, "what": true, "whom": true, "your": true}

func TestASideStrip(t *testing.T) {
	s := load(t, "salon").With(func(c *sheet.Sheet) { c.Aside = true })
	text := cardOf(t, s, page.A4).Text(false)
	if !strings.Contains(text, "The strip lies half a hole, 4 mm, to the right of the centre") {
		t.Error("the card does not say that the strip lies aside")
	}
	if !strings.Contains(text, "28 left") || strings.Contains(text, " 32 left") {
		t.Error("the first hole of the lowest row is 32 mm left of the centre, and 28 with the strip aside")
	}
}

// A row that the head has no line for is told of, and so are bonds where a line does not reach.
func TestWhatTheCardCannotShow(t *testing.T) {
	s := load(t, "salon").WithRow(sheet.NewRow(sheet.Place{At: 900}, map[int]sheet.Bond{0: {Shade: 'a'}, 1: {Shade: 'a'}}))
	s = s.WithBond(sheet.Place{At: 40}, 90, sheet.Bond{Shade: 'a'})
	c := cardOf(t, s, page.A4)
	for _, want := range []string{
		"The row at height 900 is not on the card, for this head has no such line: 2 bonds.",
		"The map does not show 1 bond beyond the ends of their lines.",
	} {
		if !slices.Contains(c.Notices, want) {
			t.Errorf("nobody is told: %q, only %q", want, c.Notices)
		}
		if joined := strings.Join(strings.Fields(c.Text(false)), " "); !strings.Contains(joined, want) {
			t.Errorf("the card does not say: %q", want)
		}
	}
}

func TestSignsThatTheFontLacks(t *testing.T) {
	s := load(t, "salon").With(func(c *sheet.Sheet) { c.Client = "王小明 & Łucja 王" })
	c := cardOf(t, s, page.A4)
	const want = "3 signs of the client's name are not in the card's font: U+738B U+5C0F U+660E"
	if !slices.Equal(c.Notices, []string{want}) {
		t.Errorf("notices: %q", c.Notices)
	}
	if !hasText(c.Pages[0], want) {
		t.Error("the card does not say so")
	}
	boxes := 0
	for _, text := range texts(c.Pages[0]) {
		if text.Text == s.Client {
			for _, g := range text.Glyphs {
				if g.Box {
					boxes++
				}
			}
		}
	}
	if boxes != 4 {
		t.Errorf("%d boxes are drawn in the name, want 4", boxes)
	}
	if len(cardOf(t, load(t, "salon"), page.A4).Notices) != 0 {
		t.Error("a sheet with Latin names has notices")
	}
}

// After a fitting is recorded the client's page speaks of what was really fitted, and of the days from then on.
func TestTheClientsPageAfterAFitting(t *testing.T) {
	s := load(t, "salon")
	s, err := visit.Begin(s, sheet.Fitting, "2026-03-05", "Kim")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range s.Rows {
		for slot, b := range r.All() {
			if r.At != 120 { // that row was left out
				s = visit.Fit(s, 0, sheet.Spot{At: r.Place, Slot: slot}, b)
			}
		}
	}
	s = visit.Change(s, 0, func(v *sheet.Visit) { v.Open = false })
	text := strings.Join(strings.Fields(cardOf(t, s, page.A4).Text(false)), " ")
	for _, want := range []string{"by Kim", "58 bonds, 44.0 g of hair, fitted on Thursday 5 March 2026.", "by Thursday 19 March 2026", "from Thursday 16 April 2026 to Thursday 30 April 2026"} {
		if !strings.Contains(text, want) {
			t.Errorf("the card does not say %q", want)
		}
	}
	// When all is out again, the day of the fitting that was is nobody's next one.
	s, err = visit.Begin(s, sheet.Removal, "2026-04-20", "Kim")
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range visit.Unseen(s, 1) {
		s = visit.See(s, 1, at, sheet.TakenOut)
	}
	text = cardOf(t, s, page.A4).Text(false)
	if !strings.Contains(text, "to be fitted") || !strings.Contains(text, "six to eight weeks after the fitting") {
		t.Error("the client's page still speaks of the fitting that is over")
	}
}

// The limits of the sheet decide the days.
func TestTheDaysFollowTheLimits(t *testing.T) {
	s := load(t, "salon").WithLimit(sheet.LimitReturn, 4).WithLimit(sheet.LimitOverdue, 4).WithLimit(sheet.FigureCheck, 0)
	text := strings.Join(strings.Fields(cardOf(t, s, page.A4).Text(false)), " ")
	if !strings.Contains(text, "on Monday 30 March 2026: The bonds come out") || strings.Contains(text, "Early check") {
		t.Error("due after four weeks without an early check, the card says otherwise")
	}
}

// The contact stands on the client's page in place of the line to write it on.
func TestTheContact(t *testing.T) {
	s := load(t, "salon")
	table := tabled(t, s)
	c := card.Of(s, table, card.Options{Contact: "טלפון 03-555 0142, Ada"})
	if last := c.Pages[len(c.Pages)-1]; !hasText(last, "טלפון 03-555 0142, Ada") {
		t.Error("the contact is not on the client's page")
	}
	if strings.Contains(c.Text(false), "\nwhom to call\n  ____") {
		t.Error("there is a line to write the contact on beside it")
	}
}

// Nothing depends on the day on which the card is made, not even for a client who is overdue on it.
func TestTheDayDoesNotMatter(t *testing.T) {
	s := load(t, "salon")
	s, err := visit.Begin(s, sheet.Fitting, "2026-03-02", "Kim")
	if err != nil {
		t.Fatal(err)
	}
	s = visit.Fit(s, 0, sheet.Spot{At: sheet.Place{At: 60}, Slot: 2}, sheet.Bond{Shade: 'a'})
	table := tabled(t, s)
	later := s.With(func(c *sheet.Sheet) { c.Today = "2026-12-01" })
	if rule.Check(later, table).Stops+rule.Check(later, table).Cautions == rule.Check(s, table).Stops+rule.Check(s, table).Cautions {
		t.Fatal("the rules say the same on both days, so that this test shows nothing")
	}
	a, errA := card.Of(s, table, card.Options{}).PDF()
	b, errB := card.Of(later, table, card.Options{}).PDF()
	if errA != nil || errB != nil || !bytes.Equal(a, b) {
		t.Error("the same sheet gives another card on another day")
	}
}

// A sheet that is saved and read again has the same card.
func TestTheCardOfASavedSheet(t *testing.T) {
	s := load(t, "names")
	again, _, err := sheetfile.Decode("again.toml", sheetfile.Encode(s))
	if err != nil {
		t.Fatal(err)
	}
	if cardOf(t, s, page.A4).Text(false) != cardOf(t, again, page.A4).Text(false) {
		t.Error("a sheet that was saved has another card")
	}
}

func BenchmarkCard(b *testing.B) {
	for _, name := range []string{"salon", "big"} {
		s := load(b, name)
		table := tabled(b, s)
		of := func() *card.Card { return card.Of(s, table, card.Options{}) }
		b.Run(name+"/draw", func(b *testing.B) {
			for b.Loop() {
				of()
			}
		})
		c := of()
		b.Run(name+"/pdf", func(b *testing.B) {
			for b.Loop() {
				if _, err := c.PDF(); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/svg", func(b *testing.B) {
			for b.Loop() {
				c.SVG()
			}
		})
		b.Run(name+"/text", func(b *testing.B) {
			for b.Loop() {
				c.Text(false)
			}
		})
	}
}
