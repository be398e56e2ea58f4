package sheetfile

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// What is written is read again as the same sheet, and written again as the same bytes.
func TestRandomSheetsComeBack(t *testing.T) {
	rounds := 50
	if testing.Short() {
		rounds = 10
	}
	r := rand.New(rand.NewPCG(7, 11))
	features := map[string]int{}
	for range rounds {
		s := randomSheet(t, r)
		text := Encode(s)
		got, notices, err := Decode("random.toml", text)
		if err != nil {
			t.Fatalf("%v\nin\n%s", err, text)
		}
		if len(notices) > 0 {
			t.Errorf("notices %v\nin\n%s", notices, text)
		}
		if !reflect.DeepEqual(got, s) {
			t.Errorf("another sheet came back\n%s", diff(fmt.Sprintf("%+v", *s), fmt.Sprintf("%+v", *got)))
		}
		if again := Encode(got); !bytes.Equal(again, text) {
			t.Errorf("other bytes came back\n%s", diff(string(text), string(again)))
		}
		for _, line := range strings.Split(string(text), "\n") {
			if !printable.Clean(line) {
				t.Errorf("the file is not safe to show: %+q", line)
			}
			if key, _, isKey := strings.Cut(line, " = "); isKey {
				features[key]++
			}
		}
		if t.Failed() {
			return
		}
	}
	if testing.Short() {
		return // a few sheets need not have everything
	}
	for table, keys := range headSheet.keysIn {
		for _, key := range keys {
			if table != "hairline" && table != "limits" && !headSheet.isTable(key) && features[quoteKey(key)] == 0 {
				t.Errorf("no random sheet has %s", key)
			}
		}
	}
}

// randomSheet is a sheet with anything that a sheet can have, in the form in which Decode gives it.
func randomSheet(t *testing.T, r *rand.Rand) *sheet.Sheet {
	t.Helper()
	for range 1000 {
		s := randomHead(r)
		table, err := slots.For(s, nil)
		if err != nil || len(table.Lines) == 0 {
			continue // these measures and moves do not go together
		}
		randomRows(r, s, table)
		randomAccepted(r, s, table)
		return randomVisits(r, s)
	}
	t.Fatal("no random head fits")
	return nil
}

func randomHead(r *rand.Rand) *sheet.Sheet {
	m := scalp.Sizes[r.IntN(len(scalp.Sizes))].Measures
	for _, tape := range []*scalp.MM{&m.Circumference, &m.EarToEar, &m.FrontToNape, &m.NapeWidth} {
		*tape += randomNumber(r, -8, 8)
	}
	m.Confirmed = r.IntN(3) == 0
	s := sheet.New(m)
	s.Title, s.Client, s.Notes = randomText(r), randomText(r), randomText(r)
	if r.IntN(2) == 0 {
		s.Notes += "\n" + randomText(r) + "\n\n" + randomText(r)
	}
	s.Date = randomDate(r)
	s.HoleSpacing, s.LineGap = []scalp.MM{6, 7.3, 8, 10, randomNumber(r, 5, 20)}[r.IntN(5)], []scalp.MM{7.3, 10, 25.4 / 3, randomNumber(r, 5, 20)}[r.IntN(4)]
	s.Aside = r.IntN(3) == 0
	s.Worn, s.Wish = some(r, sheet.Wears), some(r, sheet.Looks)
	s.Hair = sheet.Hair{Length: randomNumber(r, 0, 900), Density: pick(r, sheet.Densities), Texture: pick(r, sheet.Textures)}
	if r.IntN(3) == 0 { // not all is known
		s.Hair = pick(r, []sheet.Hair{{}, {Length: s.Hair.Length}, {Density: s.Hair.Density}, {Texture: s.Hair.Texture}})
	}
	if r.IntN(2) == 0 {
		s.Hair.Ponytail = randomNumber(r, float64(sheet.MinPonytail), float64(sheet.MaxPonytail))
	}
	if r.IntN(2) == 0 {
		s.Hair.Count = float64(randomNumber(r, float64(fibre.LeastDensity), float64(fibre.MostDensity)))
	}
	s.Hair.Root, s.Hair.Mid, s.Hair.Ends = randomColour(r), randomColour(r), randomColour(r)
	s.Asked, s.Amounts = randomConsultation(r), randomAmounts(r)
	for _, turn := range sheet.Turns {
		if r.IntN(3) > 0 {
			continue
		}
		by := scalp.Shift{Right: randomNumber(r, -9, 9), Up: randomNumber(r, -9, 9)}
		if turn == sheet.HalfUpSection {
			by.Right = 0
		}
		s = s.WithTurn(turn, by)
	}
	if len(s.Turns) == 0 {
		s.Turns = nil
	}
	for range r.IntN(4) {
		l := pick(r, scalp.Landmarks())
		s = s.WithLandmark(l, scalp.Shift{Right: randomNumber(r, -9, 9), Up: randomNumber(r, -9, 9)})
	}
	if len(s.Moved) == 0 {
		s.Moved = nil
	}
	for range r.IntN(4) {
		info := pick(r, sheet.Limits)
		s = s.WithLimit(info.Name, float64(randomNumber(r, info.Low, info.High)))
	}
	s.Partings = nil
	for range r.IntN(3) {
		s.Partings = append(s.Partings, scalp.Parting{Right: randomNumber(r, -80, 80), Length: randomNumber(r, 0, 250)})
	}
	for range r.IntN(3) {
		s.KeepOff = append(s.KeepOff, sheet.KeepOff{Height: randomNumber(r, 5, 280), Right: randomNumber(r, -60, 60), Radius: randomNumber(r, 0.1, 80), Why: randomText(r)})
	}
	s.Shades = nil
	for _, key := range r.Perm(26)[:r.IntN(5)] {
		shade := sheet.Shade{Key: 'a' + byte(key), Name: randomText(r), Length: randomNumber(r, 50, 1200),
			Grams: float64(randomNumber(r, 0.05, 5)), Pack: 1 + r.IntN(1000), Colour: randomColour(r), Toned: randomText(r)}
		if r.IntN(2) == 0 {
			shade.Texture, shade.Ends = pick(r, sheet.Textures), float64(randomNumber(r, 1, 100))
		}
		if len(s.Shades) > 0 && r.IntN(3) == 0 {
			shade.Used, shade.Retipped, shade.Was = r.IntN(mostUsed-5), r.IntN(mostUsed-5), s.Shades[0].Key
		}
		s.Shades = append(s.Shades, shade)
	}
	return s
}

// randomColour is a reading in either of the two ways in which one is written, or none.
func randomColour(r *rand.Rand) shade.Reading {
	colour := []string{"", fmt.Sprintf("#%02x%02x%02x", r.IntN(256), r.IntN(256), r.IntN(256)),
		fmt.Sprintf("%.1f %.1f %.1f", 5+90*r.Float64(), 20*r.Float64(), 40*r.Float64())}[r.IntN(3)]
	if colour == "" {
		return ""
	}
	read, err := shade.Read(colour)
	if err != nil {
		panic(err)
	}
	return read
}

func randomConsultation(r *rand.Rand) sheet.Consultation {
	var c sheet.Consultation
	if r.IntN(3) == 0 {
		return c
	}
	for _, q := range sheet.Questions {
		c = c.With(q.ID, pick(r, append([]sheet.Answer{sheet.NotAsked}, sheet.Answers...)))
	}
	c.PatchTest, c.Agreed = randomDate(r), randomDate(r)
	return c
}

func randomAmounts(r *rand.Rand) sheet.Amounts {
	return pick(r, []sheet.Amounts{{},
		{Length: randomNumber(r, float64(sheet.MinLength), float64(sheet.MaxLength))},
		{Volume: float64(randomNumber(r, 1, sheet.MaxVolume)), Highlights: 1 + r.IntN(sheet.MaxHighlights)}})
}

func randomRows(r *rand.Rand, s *sheet.Sheet, table *slots.Table) {
	if len(s.Shades) == 0 {
		return
	}
	for range r.IntN(9) {
		at := pick(r, table.Lines).Place()
		if r.IntN(4) == 0 {
			at = sheet.Place{Along: true, At: scalp.MM(r.IntN(9)-4) * s.HoleSpacing}
			if _, err := table.Line(at); err != nil {
				continue
			}
		}
		bonds := map[int]sheet.Bond{r.IntN(99) - 49: {Shade: pick(r, s.Shades).Key}}
		for range r.IntN(30) {
			bonds[r.IntN(41)-20] = sheet.Bond{Shade: pick(r, s.Shades).Key, Split: r.IntN(3) == 0, Trimmed: r.IntN(3) == 0}
		}
		if r.IntN(50) == 0 {
			bonds[sheet.MaxSlot] = sheet.Bond{Shade: pick(r, s.Shades).Key}
		}
		row := sheet.NewRow(at, bonds)
		row.Offset = r.IntN(3) == 0
		if r.IntN(3) == 0 {
			row.Look = pick(r, sheet.Looks)
		}
		*s = *s.WithRow(row)
	}
}

func randomAccepted(r *rand.Rand, s *sheet.Sheet, table *slots.Table) {
	for range r.IntN(4) {
		a := sheet.Accepted{Reason: "a reason " + randomText(r), By: randomText(r), Date: randomDate(r)}
		a.Rule = pick(r, rule.All).ID
		switch r.IntN(5) {
		case 0:
			a.About = randomText(r) // or of the sheet as a whole
		case 1:
			a.On, a.Row = sheet.OnRow, pick(r, table.Lines).Place()
		case 2: // a row whose line is gone
			a.On, a.Row = sheet.OnRow, sheet.Place{At: randomNumber(r, 0, 900)}
		default:
			a.On, a.Row, a.Slot = sheet.OnSlot, sheet.Place{Along: true, At: scalp.MM(r.IntN(9)-4) * s.HoleSpacing}, r.IntN(2*sheet.MaxSlot+1)-sheet.MaxSlot
		}
		*s = *s.WithAccepted(a)
	}
}

// randomNumber is a number in a range: whole, with a decimal, or with all the digits that a calculation leaves. It has at
// most seven decimals, as places have in a file.
func randomNumber(r *rand.Rand, low, high float64) scalp.MM {
	v := low + r.Float64()*(high-low)
	switch r.IntN(3) {
	case 0:
		v = math.Round(v)
	case 1:
		v = math.Round(v*10) / 10
	default:
		v = math.Round(v*1e7) / 1e7
	}
	return scalp.MM(max(low, min(high, v)) + 0)
}

func randomDate(r *rand.Rand) string {
	if r.IntN(2) == 0 {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", 1990+r.IntN(60), 1+r.IntN(12), 1+r.IntN(28))
}

// randomText is text that is already safe to show, with all that TOML might stumble over.
func randomText(r *rand.Rand) string {
	pieces := []string{"", " ", `"`, `\`, "'", "#", "[x]", "=", `\n`, `"""`, "low bun", "Zoë", "山田", "שלום", "💇", "e\u0301", "\uFFFD", "👩\u200D🦱", "شیرین\u200Cبانو", "\\u001b", "7,5", "{", "%s"}
	var b strings.Builder
	for range r.IntN(6) {
		b.WriteString(pick(r, pieces))
	}
	return b.String()
}

func pick[T any](r *rand.Rand, from []T) T { return from[r.IntN(len(from))] }

// some is a few of the words, in any order; nil for none.
func some[T any](r *rand.Rand, from []T) []T {
	var few []T
	for _, i := range r.Perm(len(from))[:r.IntN(len(from)+1)] {
		few = append(few, from[i])
	}
	return few
}

// Encode loses nothing of a sheet that is not right, and Decode says what is wrong with it.
func TestWrongSheetsAreWrittenAndRefused(t *testing.T) {
	right := sheet.New(scalp.Sizes[1].Measures)
	for want, wrong := range map[string]func(*sheet.Sheet){
		"date is text":         func(s *sheet.Sheet) { s.Date = "next Monday" },
		"text needs quotation": func(s *sheet.Sheet) { s.HoleSpacing = scalp.MM(math.NaN()) },
		"no rule \"astrology\"": func(s *sheet.Sheet) {
			s.Accepted = []sheet.Accepted{{Concern: sheet.Concern{Rule: "astrology"}, Reason: "so"}}
		},
		"no shade z on this sheet": func(s *sheet.Sheet) { *s = *s.WithBond(sheet.Place{At: 60}, 0, sheet.Bond{Shade: 'z'}) },
		"no \"party\"":             func(s *sheet.Sheet) { s.Visits = []sheet.Visit{{Kind: "party", Date: "2026-03-02"}} },
		"the letter of a mark": func(s *sheet.Sheet) {
			s.Visits = []sheet.Visit{{Kind: sheet.Fitting, Date: "2026-03-02", Seen: sheet.Marks{{At: sheet.Place{At: 60}}: '?'}}}
		},
		"no bond was there": func(s *sheet.Sheet) {
			s.Visits = []sheet.Visit{{Kind: sheet.Fitting, Date: "2026-03-02", Seen: sheet.Marks{{At: sheet.Place{At: 60}}: sheet.Sealed}}}
		},
		"letter of a shade": func(s *sheet.Sheet) {
			s.Visits = []sheet.Visit{{Kind: sheet.Removal, Date: "2026-03-02", Strands: []sheet.Outcome{{Kept: 1}}}}
		},
		"no line of the map at hei": func(s *sheet.Sheet) { *s = *s.WithBond(sheet.Place{At: 61}, 0, sheet.Bond{Shade: 'a'}) },
	} {
		_, _, err := Decode("wrong.toml", Encode(right.With(wrong)))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}

func TestEncodeIsStable(t *testing.T) {
	s := randomSheet(t, rand.New(rand.NewPCG(3, 3)))
	s.Limits = map[sheet.LimitName]float64{}
	for _, info := range sheet.Limits {
		s.Limits[info.Name] = info.Default
	}
	text := Encode(s)
	for range 20 {
		s.Limits = maps.Clone(s.Limits)
		if again := Encode(s); !slices.Equal(again, text) {
			t.Fatal(diff(string(text), string(again)))
		}
	}
}
