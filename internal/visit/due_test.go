package visit

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
	_ "time/tzdata" // the clocks of the tests, wherever they run

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// julian is the Julian day number of a date of the Gregorian calendar, by the formula of Fliegel and van Flandern 1968, Communications
// of the ACM 11:657; from memory. Division is to whole numbers towards zero.
func julian(year, month, day int) int {
	a := (month - 14) / 12
	return (1461*(year+4800+a))/4 + (367*(month-2-12*a))/12 - (3*((year+4900+a)/100))/4 + day - 32075
}

// gregorian is the date of a Julian day number, by the other formula there.
func gregorian(number int) (year, month, day int) {
	l := number + 68569
	n := 4 * l / 146097
	l -= (146097*n + 3) / 4
	i := 4000 * (l + 1) / 1461001
	l += 31 - 1461*i/4
	j := 80 * l / 2447
	k := j / 11
	return 100*(n-49) + i + k, j + 2 - 12*k, l - 2447*j/80
}

func julianOf(t time.Time) int { return julian(t.Year(), int(t.Month()), t.Day()) }

// fittedOn is a sheet with one bond, in since a date.
func fittedOn(date string) *sheet.Sheet {
	return sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) {
		v := sheet.Visit{Kind: sheet.Fitting, Date: date}
		c.Visits = []sheet.Visit{v.WithFitted(sheet.Spot{At: sheet.Place{At: 60}}, sheet.Bond{Shade: 'a'})}
	})
}

// TestJulianFormula holds the formulas to each other and to well known days: noon of 2000-01-01 began the Julian day 2451545, and the
// Gregorian calendar began on 1582-10-15, 2299161.
func TestJulianFormula(t *testing.T) {
	if a, b := julian(2000, 1, 1), julian(1582, 10, 15); a != 2451545 || b != 2299161 {
		t.Errorf("%d and %d", a, b)
	}
	for n := 2299161; n < 2600000; n += 97 {
		if y, m, d := gregorian(n); julian(y, m, d) != n {
			t.Fatalf("%d is %d-%d-%d, which is %d", n, y, m, d, julian(y, m, d))
		}
	}
}

// Days due, worked out on a calendar: the check two weeks after the fitting, back from six weeks on, by eight.
func TestDueDatesByHand(t *testing.T) {
	for fitted, want := range map[string][3]string{
		"2026-03-02": {"2026-03-16", "2026-04-13", "2026-04-27"},
		"2026-01-31": {"2026-02-14", "2026-03-14", "2026-03-28"}, // over the end of a February of 28 days
		"2028-01-31": {"2028-02-14", "2028-03-13", "2028-03-27"}, // and of one of 29
		"2028-02-29": {"2028-03-14", "2028-04-11", "2028-04-25"},
		"2028-02-15": {"2028-02-29", "2028-03-28", "2028-04-11"},
		"2100-02-15": {"2100-03-01", "2100-03-29", "2100-04-12"}, // no leap year
		"2026-11-26": {"2026-12-10", "2027-01-07", "2027-01-21"}, // over the turn of the year
		"2027-12-31": {"2028-01-14", "2028-02-11", "2028-02-25"},
	} {
		d, ok := NextDue(fittedOn(fitted))
		if got := [3]string{d.Check.Format(time.DateOnly), d.From.Format(time.DateOnly), d.By.Format(time.DateOnly)}; !ok || got != want || d.Fitted.Format(time.DateOnly) != fitted {
			t.Errorf("fitted %s: %v, want %v", fitted, got, want)
		}
	}
}

// Days between dates, days due and growth, against Julian day numbers, for every day of some years and for days taken at random.
func TestDatesAgainstJulianDays(t *testing.T) {
	s := sheet.New(scalp.Sizes[1].Measures)
	r := rand.New(rand.NewPCG(7, 28))
	check := func(from, days int) {
		t.Helper()
		y, m, d := gregorian(from)
		first := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
		y, m, d = gregorian(from + days)
		last := time.Date(y, time.Month(m), d, 23, 59, 59, 0, time.UTC)
		if got := Days(first, last); got != days {
			t.Fatalf("%s to %s: %d days, want %d", first, last, got, days)
		}
		if got := Days(last, first); got != -days {
			t.Fatalf("%s back to %s: %d days, want %d", last, first, got, -days)
		}
		due := DueFrom(s, first)
		for _, want := range []struct {
			day  time.Time
			days int
		}{{due.Fitted, 0}, {due.Check, 14}, {due.From, 42}, {due.By, 56}} {
			if got := julianOf(want.day) - from; got != want.days {
				t.Fatalf("fitted %s: %s is %d days later, want %d", first, want.day, got, want.days)
			}
		}
	}
	for _, years := range [][2]int{{2026, 2029}, {2099, 2101}, {1999, 2001}} {
		for n := julian(years[0], 1, 1); n <= julian(years[1], 12, 31); n++ {
			check(n, (n*7)%800)
		}
	}
	rounds := 20000
	if testing.Short() {
		rounds = 2000
	}
	for range rounds {
		check(julian(1900, 1, 1)+r.IntN(200000), r.IntN(40000))
	}
}

// A client's state on every day after a fitting is that of counting days, wherever the clock hangs and whatever hour it shows. The
// places have their clocks put forward and back, and Apia went from 2011-12-29 to 2011-12-31.
func TestStateOnEveryClock(t *testing.T) {
	for _, name := range []string{"UTC", "Europe/Berlin", "America/New_York", "Pacific/Apia", "Australia/Lord_Howe", "Asia/Kathmandu"} {
		place, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, fitted := range []string{"2026-02-20", "2026-09-14", "2011-11-10", "2011-12-29", "2028-02-29", "2026-12-31"} {
			s := fittedOn(fitted)
			day, _ := Day(fitted)
			start := julianOf(day)
			for _, hour := range []int{0, 2, 3, 12, 23} {
				for days := -2; days < 70; days++ {
					y, m, d := gregorian(start + days)
					now := time.Date(y, time.Month(m), d, hour, 30, 0, 0, place)
					passed := julianOf(now) - start // where an hour or a day is left out, the clock shows another
					want := Wearing
					switch {
					case passed > 56:
						want = Overdue
					case passed >= 42:
						want = DueNow
					case passed >= 7:
						want = CheckUp
					}
					if got := StateOn(s, now); got != want {
						t.Fatalf("%s, fitted %s: on %s, %d days later, %q, want %q", name, fitted, now, passed, got, want)
					}
					if got := Days(day, now); got != passed {
						t.Fatalf("%s, fitted %s: %d days to %s, want %d", name, fitted, got, now, passed)
					}
				}
			}
		}
	}
}

// A day counts as one whether it has 23, 24 or 25 hours, and one that does not exist is skipped on the clock but not on the calendar.
func TestDaysOverChangesOfTheClock(t *testing.T) {
	in := func(name string) *time.Location {
		place, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		return place
	}
	berlin, york, apia := in("Europe/Berlin"), in("America/New_York"), in("Pacific/Apia")
	for _, c := range []struct {
		from, to time.Time
		hours    float64
		days     int
	}{
		{time.Date(2026, 3, 29, 0, 0, 0, 0, berlin), time.Date(2026, 3, 30, 0, 0, 0, 0, berlin), 23, 1},
		{time.Date(2026, 10, 25, 0, 0, 0, 0, berlin), time.Date(2026, 10, 26, 0, 0, 0, 0, berlin), 25, 1},
		{time.Date(2026, 3, 8, 0, 0, 0, 0, york), time.Date(2026, 3, 9, 0, 0, 0, 0, york), 23, 1},
		{time.Date(2026, 10, 31, 23, 59, 0, 0, york), time.Date(2026, 11, 1, 0, 1, 0, 0, york), 2. / 60, 1},
		{time.Date(2011, 12, 29, 23, 0, 0, 0, apia), time.Date(2011, 12, 31, 1, 0, 0, 0, apia), 2, 2}, // by the calendar, on which the 30th is
		{time.Date(2026, 3, 29, 23, 0, 0, 0, berlin), time.Date(2026, 3, 29, 18, 0, 0, 0, york), 1, 0},
	} {
		if got := c.to.Sub(c.from).Hours(); math.Abs(got-c.hours) > 1e-9 {
			t.Fatalf("%s to %s are %g hours: the example is wrong", c.from, c.to, got)
		}
		if got := Days(c.from, c.to); got != c.days {
			t.Errorf("%s to %s: %d days, want %d", c.from, c.to, got, c.days)
		}
	}
}

// The states change on the very day, and an early check is over once every bond was looked at on a later day than it was made.
func TestStateOnTheDay(t *testing.T) {
	s := fittedOn("2026-03-02")
	looked := func(date string, open bool) *sheet.Sheet {
		return s.With(func(c *sheet.Sheet) {
			c.Visits = append(c.Visits[:1:1], sheet.Visit{Kind: sheet.Inspection, Date: date, Open: open, Seen: sheet.Marks{{At: sheet.Place{At: 60}}: sheet.Sealed}})
		})
	}
	removed := s.With(func(c *sheet.Sheet) {
		c.Visits = append(c.Visits[:1:1], sheet.Visit{Kind: sheet.Removal, Date: "2026-03-20", Seen: sheet.Marks{{At: sheet.Place{At: 60}}: sheet.TakenOut}})
	})
	for _, c := range []struct {
		s     *sheet.Sheet
		today string
		want  State
	}{
		{s, "2026-03-02", Wearing}, {s, "2026-03-08", Wearing}, {s, "2026-03-09", CheckUp}, {s, "2026-04-12", CheckUp}, {s, "2026-04-13", DueNow},
		{s, "2026-04-27", DueNow}, {s, "2026-04-28", Overdue}, {s, "2036-01-01", Overdue}, {s, "2026-01-01", Wearing},
		{looked("2026-03-02", false), "2026-03-20", CheckUp},
		{looked("2026-03-03", false), "2026-03-20", Wearing},
		{looked("2026-03-12", true), "2026-03-20", CheckUp},
		{looked("2026-03-12", false), "2026-04-28", Overdue},
		{removed, "2026-06-01", NotIn}, {sheet.New(scalp.Sizes[1].Measures), "2026-06-01", NotIn},
	} {
		today, err := Day(c.today)
		if err != nil {
			t.Fatal(err)
		}
		if got := StateOn(c.s, today); got != c.want {
			t.Errorf("on %s, with %d visits: %q, want %q", c.today, len(c.s.Visits), got, c.want)
		}
	}
}

// A refit of some bonds leaves the client due for the others; limits of the client's own move the days, and parts of weeks count in
// whole days.
func TestDueByOldestAndByLimits(t *testing.T) {
	s := fittedOn("2026-03-02").With(func(c *sheet.Sheet) {
		later := sheet.Visit{Kind: sheet.Inspection, Date: "2026-03-16"}
		c.Visits = append(c.Visits, later.WithFitted(sheet.Spot{At: sheet.Place{At: 80}}, sheet.Bond{Shade: 'a'}))
	})
	if d, ok := NextDue(s); !ok || d.Fitted.Format(time.DateOnly) != "2026-03-02" {
		t.Errorf("%v, %v", d, ok)
	}
	lost := s.With(func(c *sheet.Sheet) {
		c.Visits = append(c.Visits[:2:2], sheet.Visit{Kind: sheet.Inspection, Date: "2026-03-20", Seen: sheet.Marks{{At: sheet.Place{At: 60}}: sheet.Lost}})
	})
	if d, ok := NextDue(lost); !ok || d.Fitted.Format(time.DateOnly) != "2026-03-16" {
		t.Errorf("%v, %v", d, ok)
	}
	for _, c := range []struct {
		weeks float64
		days  int
	}{{1, 7}, {4, 28}, {6.5, 46}, {7.2, 50}, {26, 182}} {
		d, _ := NextDue(s.WithLimit(sheet.LimitOverdue, c.weeks))
		if got := julianOf(d.By) - julian(2026, 3, 2); got != c.days {
			t.Errorf("%g weeks are %d days, want %d", c.weeks, got, c.days)
		}
	}
	house := s.With(func(c *sheet.Sheet) {
		c.House = map[sheet.LimitName]float64{sheet.LimitReturn: 3, sheet.LimitOverdue: 4, sheet.FigureCheck: 1}
	})
	if d, _ := NextDue(house); julianOf(d.From)-julianOf(d.Fitted) != 21 || julianOf(d.By)-julianOf(d.Fitted) != 28 || julianOf(d.Check)-julianOf(d.Fitted) != 7 {
		t.Errorf("%v", d)
	}
	if d, _ := NextDue(house.WithLimit(sheet.LimitOverdue, 5)); julianOf(d.By)-julianOf(d.Fitted) != 35 {
		t.Errorf("%v", d)
	}
}

// Growth is the rate times the days: the check values that go with the published rates (Loussouarn 2001 and 2005: 367, 411, 280 and
// 256 µm a day), to their last digit, and the default of 0.35 mm.
func TestGrowth(t *testing.T) {
	s := sheet.New(scalp.Sizes[1].Measures)
	for _, c := range []struct {
		perDay float64 // mm
		days   int
		want   float64 // mm
		digit  float64
	}{
		{0.367, 56, 20.6, 0.1}, {0.411, 56, 23.0, 0.1}, {0.280, 56, 15.7, 0.1},
		{0.411, 36, 14.8, 0.1}, {0.411, 37, 15.2, 0.1}, // 15 mm in 36.5 days
		{0.367, 41, 15.0, 0.1}, {0.350, 43, 15.05, 0.01}, {0.280, 54, 15.1, 0.1}, {0.256, 59, 15.1, 0.1},
		{0.350, 42, 14.7, 0.01}, {0.350, 56, 19.6, 0.01}, {0.350, 0, 0, 0.01}, {0.350, -3, 0, 0.01},
	} {
		got := float64(Growth(s.WithLimit(sheet.FigureGrowth, c.perDay), c.days))
		if math.Abs(got-c.want) > c.digit/2+1e-9 {
			t.Errorf("%d days at %g mm: %g mm, want %g", c.days, c.perDay, got, c.want)
		}
	}
	if got := Growth(s, 56); math.Abs(float64(got)-19.6) > 1e-9 {
		t.Errorf("%g mm in eight weeks by default", float64(got))
	}
}

// The share of the own hairs in a bond that are shed: with 12 % resting for 100 days each, 6.7 % in 56 days and 10.1 % in 84.
func TestShed(t *testing.T) {
	s := sheet.New(scalp.Sizes[1].Measures)
	for days, want := range map[int]float64{56: 0.067, 84: 0.101, 0: 0} {
		if got := Shed(s, days); math.Abs(got-want) > 0.0005 {
			t.Errorf("%d days: %g, want %g", days, got, want)
		}
	}
	if got := Shed(s.WithLimit(sheet.FigureTelogen, 24), 50); math.Abs(got-0.12) > 1e-9 {
		t.Errorf("twice as many resting: %g", got)
	}
}
