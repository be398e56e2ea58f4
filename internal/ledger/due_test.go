package ledger

import (
	"encoding/csv"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// asIs is a studio without limits of its own.
func asIs(s *sheet.Sheet) *sheet.Sheet { return s }

// clients are one of each kind, on 2026-11-26: file and sheet.
func clients(t testing.TB) map[string]*sheet.Sheet {
	plan := oats(t, map[scalp.MM]string{60: "a.a.(a).a.a", 80: "b.A.(a).A.b"})
	named := func(client, title string) *sheet.Sheet {
		return plan.With(func(c *sheet.Sheet) { c.Client, c.Title = client, title })
	}
	fitted := func(s *sheet.Sheet, date string) *sheet.Sheet { return visited(t, s, sheet.Fitting, date, fitAll) }
	checked := func(s *sheet.Sheet, date string) *sheet.Sheet {
		return visited(t, s, sheet.Inspection, date, func(s *sheet.Sheet, n int) *sheet.Sheet { return markRest(s, n, sheet.Sealed) })
	}
	return map[string]*sheet.Sheet{
		"overdue.toml":       checked(fitted(named("014", "spring fitting"), "2026-08-30"), "2026-09-12"), // by 2026-10-25: 32 days over
		"just-over.toml":     fitted(named("015", "cut and colour first, then the fitting in two halves"), "2026-09-30"),
		"in/last-day.toml":   fitted(named("016", ""), "2026-10-01"), // by 2026-11-26: the last day
		"in/first-day.toml":  fitted(named("", "first day"), "2026-10-15"),
		"check.toml":         fitted(named("018", "check"), "2026-11-16"), // 10 days ago
		"late-check.toml":    fitted(named("019", "late check"), "2026-10-20"),
		"checked.toml":       checked(fitted(named("020", "checked"), "2026-11-10"), "2026-11-20"),
		"just-fitted.toml":   fitted(named("021", "just fitted"), "2026-11-20"),
		"begun.toml":         visited(t, named("022", "begun"), sheet.Fitting, "2026-11-26", func(s *sheet.Sheet, n int) *sheet.Sheet { return visit.Fit(s, n, spot(60, 0), sheet.Bond{Shade: 'a'}) }),
		"only-begun.toml":    visited(t, named("023", "only begun"), sheet.Fitting, "2026-11-25", func(s *sheet.Sheet, n int) *sheet.Sheet { return s }),
		"begun-overdue.toml": visited(t, fitted(named("024", "begun overdue"), "2026-08-01"), sheet.Refit, "2026-11-26", func(s *sheet.Sheet, n int) *sheet.Sheet { return s }),
		"plan.toml":          named("025", "plan").With(func(c *sheet.Sheet) { c.Date = "2026-12-24" }),
		"plan-past.toml":     named("026", "plan past").With(func(c *sheet.Sheet) { c.Date = "2026-11-25" }),
		"plan-undated.toml":  named("027", ""),
		"nothing.toml":       oats(t, nil),
		"out.toml": visited(t, fitted(named("029", "out"), "2026-06-01"), sheet.Removal, "2026-07-27", func(s *sheet.Sheet, n int) *sheet.Sheet {
			return takeOut(t, s, n)
		}),
	}
}

func TestWhereEachStands(t *testing.T) {
	today := day("2026-11-26")
	for file, want := range map[string]Line{
		"overdue.toml":       {State: visit.Overdue, Days: 88, Grown: 30.8},
		"just-over.toml":     {State: visit.Overdue, Days: 57, Grown: 19.95},
		"in/last-day.toml":   {State: visit.DueNow, Days: 56, Grown: 19.6},
		"in/first-day.toml":  {State: visit.DueNow, Days: 42, Grown: 14.7},
		"check.toml":         {State: visit.CheckUp, Days: 10, Grown: 3.5},
		"late-check.toml":    {State: visit.CheckUp, Days: 37, Grown: 12.95},
		"checked.toml":       {State: visit.Wearing, Days: 16, Grown: 5.6},
		"just-fitted.toml":   {State: visit.Wearing, Days: 6, Grown: 2.1},
		"begun.toml":         {State: NotFinished, NotFinished: "fitting of 2026-11-26", Begun: "2026-11-26"},
		"only-begun.toml":    {State: NotFinished, NotFinished: "fitting of 2026-11-25", Begun: "2026-11-25"},
		"begun-overdue.toml": {State: visit.Overdue, Days: 117, Grown: 40.95, NotFinished: "refit of 2026-11-26", Begun: "2026-11-26"},
		"plan.toml":          {State: Planned, Planned: "2026-12-24"},
		"plan-past.toml":     {State: Planned, Planned: "2026-11-25"},
		"plan-undated.toml":  {State: Planned},
	} {
		s := clients(t)[file]
		got, ok := LineOf(file, s, today)
		if !ok || math.Abs(float64(got.Grown-want.Grown)) > 1e-9 {
			t.Errorf("%s: %v, %+v", file, ok, got)
		}
		if d, in := visit.NextDue(s); in != got.Held() || got.Due != d {
			t.Errorf("%s: %+v", file, got.Due)
		}
		want.File, want.Title, want.Client, want.Due, want.Grown = file, s.Title, s.Client, got.Due, got.Grown
		if got != want {
			t.Errorf("%s: %+v\nwant %+v", file, got, want)
		}
	}
	for _, file := range []string{"nothing.toml", "out.toml"} {
		if got, ok := LineOf(file, clients(t)[file], today); ok {
			t.Errorf("%s: %+v", file, got)
		}
	}
}

// The limits of the client, or else of the studio, say when.
func TestLimitsOfClientAndStudio(t *testing.T) {
	folder := t.TempDir()
	s := clients(t)["checked.toml"]
	write(t, folder, "own.toml", s.With(func(c *sheet.Sheet) { c.Limits = map[sheet.LimitName]float64{sheet.LimitOverdue: 2} }))
	write(t, folder, "house.toml", s)
	house := func(s *sheet.Sheet) *sheet.Sheet {
		return s.With(func(c *sheet.Sheet) {
			c.House = map[sheet.LimitName]float64{sheet.LimitReturn: 1, sheet.LimitOverdue: 4, sheet.FigureGrowth: 0.5}
		})
	}
	list, _, err := Due(folder, day("2026-11-26"), false, house)
	if err != nil || len(list.Lines) != 2 {
		t.Fatal(list, err)
	}
	if l := list.Lines[0]; l.State != visit.Overdue || l.Day() != "2026-11-24" || l.Grown != 8 {
		t.Errorf("%+v", l)
	}
	if l := list.Lines[1]; l.State != visit.DueNow || l.Day() != "2026-12-08" || l.Grown != 8 {
		t.Errorf("%+v", l)
	}
}

const dueOnAPage = `who is due on 2026-11-26, of 16 sheets

overdue: 3                               fitted     back by          over  grown
  024, begun overdue                 2026-08-01  2026-09-26       61 days  41 mm
    begun-overdue.toml
    refit of 2026-11-26 not finished
  014, spring fitting                2026-08-30  2026-10-25       32 days  31 mm
    overdue.toml
  015, cut and colour first, then the fitting in two halves
                                     2026-09-30  2026-11-25         1 day  20 mm
    just-over.toml

due: 2                                   fitted     back by          left  grown
  016                                2026-10-01  2026-11-26         today  20 mm
    in/last-day.toml
  first day                          2026-10-15  2026-12-10       14 days  15 mm
    in/first-day.toml

early check: 2                           fitted    check by          left  grown
  019, late check                    2026-10-20  2026-11-03  23 days over  13 mm
    late-check.toml
  018, check                         2026-11-16  2026-11-30        4 days   4 mm
    check.toml

not finished: 2                          fitted    due from          left  grown
  023, only begun
    only-begun.toml
    fitting of 2026-11-25 not finished
  022, begun                         2026-11-26  2027-01-07       42 days   0 mm
    begun.toml
    fitting of 2026-11-26 not finished

planned: 3                                          fitting          left
  026, plan past                                 2026-11-25     1 day ago
    plan-past.toml
  025, plan                                      2026-12-24       28 days
    plan.toml
  027                                               no date
    plan-undated.toml

wearing: 2                               fitted    due from          left  grown
  020, checked                       2026-11-10  2026-12-22       26 days   6 mm
    checked.toml
  021, just fitted                   2026-11-20  2027-01-01       36 days   2 mm
    just-fitted.toml

With nothing in and nothing planned: 2.
`

func TestDueText(t *testing.T) {
	folder := t.TempDir()
	for file, s := range clients(t) {
		write(t, folder, file, s)
	}
	list, unread, err := Due(folder, day("2026-11-26"), true, asIs)
	if err != nil || unread != nil {
		t.Fatal(unread, err)
	}
	inFolder := func(l List) string { return strings.ReplaceAll(l.Text(80), folder+string(filepath.Separator), "") }
	for i := range list.Lines {
		list.Lines[i].File = strings.TrimPrefix(list.Lines[i].File, folder+string(filepath.Separator))
	}
	if got := inFolder(list); got != dueOnAPage {
		t.Errorf("%s\nwant\n%s", got, dueOnAPage)
	}
	some, _, _ := Due(folder, day("2026-11-26"), false, asIs)
	got := some.Text(80)
	if strings.Contains(got, "plan.toml") || strings.Contains(got, "just-fitted") ||
		!strings.HasSuffix(got, "Not listed: 2 wearing, 3 planned; --all lists them. With nothing in and nothing\nplanned: 2.\n") {
		t.Errorf("%s", got)
	}
	none, _, _ := Due(t.TempDir(), day("2026-11-26"), false, asIs)
	if got := none.Text(80); got != "who is due on 2026-11-26, of 0 sheets\n\nNobody is due, or up for an early check.\n" {
		t.Errorf("%q", got)
	}
}

// Whoever they are and whatever they are called, the list is in order, no line is wider than the page, and all is safe to show.
func TestDueTextKeepsToThePage(t *testing.T) {
	rng := seeded(3)
	bits := []string{"oat ", "\x1b[31m", "山田 ", "a-very-long-name-without-a-blank-that-goes-on-and-on-", "=1+1", "\n", "\u202e", "Zoë "}
	text := func() string {
		var b strings.Builder
		for range rng.IntN(9) {
			b.WriteString(bits[rng.IntN(len(bits))])
		}
		return b.String()
	}
	for range fewer(300, 40) {
		list := List{Today: day("2026-11-26"), All: rng.IntN(2) == 0, Counts: map[visit.State]int{}}
		for range rng.IntN(12) {
			l := Line{File: text(), Title: text(), Client: text(), State: States[rng.IntN(len(States))]}
			if l.State != Planned && (l.State != NotFinished || rng.IntN(2) == 0) {
				l.Due = visit.DueFrom(oats(t, nil), day("2026-07-01").AddDate(0, 0, rng.IntN(140)))
				l.Grown = scalp.MM(rng.IntN(60))
			}
			if rng.IntN(3) == 0 {
				l.NotFinished, l.Begun = "refit of 2026-11-01", "2026-11-01"
			}
			list.Lines = append(list.Lines, l)
			list.Sheets++
			list.Counts[l.State]++
		}
		slices.SortFunc(list.Lines, Line.compare)
		width := 60 + rng.IntN(60)
		for line := range strings.Lines(list.Text(width)) {
			line = strings.TrimSuffix(line, "\n")
			if printable.Width(line) > width || !printable.Clean(line) || strings.TrimRight(line, " ") != line {
				t.Fatalf("a line of %d columns on a page of %d: %q", printable.Width(line), width, line)
			}
		}
		var b strings.Builder
		if err := list.CSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
		if err != nil || len(rows) != len(list.Lines)+1 {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		for i, row := range rows[1:] {
			for _, cell := range row {
				if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") || !printable.Clean(cell) {
					t.Fatalf("a spreadsheet may take %q for a formula", cell)
				}
			}
			if i > 0 && slices.Index(States, visit.State(row[0])) < slices.Index(States, visit.State(rows[i][0])) {
				t.Fatalf("%s after %s", row[0], rows[i][0])
			}
		}
	}
}

func TestDueCSV(t *testing.T) {
	list := List{Today: day("2026-11-26")}
	all := clients(t)
	for _, file := range []string{"overdue.toml", "in/last-day.toml", "only-begun.toml", "plan.toml"} {
		l, _ := LineOf(file, all[file], list.Today)
		list.Lines = append(list.Lines, l)
	}
	var b strings.Builder
	if err := list.CSV(&b); err != nil {
		t.Fatal(err)
	}
	const want = `state,client,title,file,fitted,check_by,due_from,due_by,days_since,days_left,days_over,grown_mm,not_finished,planned
overdue,014,spring fitting,overdue.toml,2026-08-30,2026-09-13,2026-10-11,2026-10-25,88,,32,30.8,,
due,016,,in/last-day.toml,2026-10-01,2026-10-15,2026-11-12,2026-11-26,56,0,,19.6,,
not finished,023,only begun,only-begun.toml,,,,,,,,,fitting of 2026-11-25,
planned,025,plan,plan.toml,,,,,,,,,,2026-12-24
`
	if got := b.String(); got != strings.ReplaceAll(want, "\n", "\r\n") {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}
