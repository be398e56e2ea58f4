package money_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/underveil/internal/money"
)

var (
	euro  = money.Currency{Code: "EUR", Decimals: 2}
	yen   = money.Currency{Code: "JPY", Decimals: 0}
	dinar = money.Currency{Code: "KWD", Decimals: 3}
)

func TestOf(t *testing.T) {
	for code, want := range map[string]money.Currency{
		"EUR": euro, "eur": euro, " Eur ": euro, "JPY": yen, "jpy": yen, "KWD": dinar,
		"USD": {Code: "USD", Decimals: 2}, "CHF": {Code: "CHF", Decimals: 2}, "GBP": {Code: "GBP", Decimals: 2},
		"SEK": {Code: "SEK", Decimals: 2}, "KRW": {Code: "KRW", Decimals: 0}, "CLF": {Code: "CLF", Decimals: 4},
	} {
		if got, err := money.Of(code); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", code, got, err, want)
		}
	}
	for _, code := range []string{"", "E", "EU", "EURO", "€", "ABX", "E R", "123", "äöü"} {
		if got, err := money.Of(code); err == nil || !strings.Contains(err.Error(), `"EUR"`) || got != (money.Currency{}) {
			t.Errorf("%q: %v, %v; want an error that says how a code looks", code, got, err)
		}
	}
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		in   money.Currency
		text string
		want money.Amount
	}{
		{euro, "64", 6400}, {euro, "64.5", 6450}, {euro, "64,5", 6450}, {euro, "64.50", 6450}, {euro, " 64,05 ", 6405},
		{euro, "-64.05", -6405}, {euro, "+0.01", 1}, {euro, "-0", 0}, {euro, "-0.05", -5}, {euro, "007", 700},
		{euro, "10000000000000", 1e15}, {euro, "-10000000000000.00", -1e15}, {euro, "9999999999999.99", 1e15 - 1},
		{yen, "64", 64}, {yen, "-3", -3}, {yen, "1000000000000000", 1e15},
		{dinar, "1,234", 1234}, {dinar, "1.2", 1200}, {dinar, "0.001", 1}, {dinar, "64", 64000},
		{euro, strings.Repeat("0", 50) + "1", 100},
	} {
		if got, err := c.in.Parse(c.text); err != nil || got != c.want {
			t.Errorf("%q %s: %d, %v; want %d", c.text, c.in.Code, got, err, c.want)
		}
	}
}

func TestParseRefused(t *testing.T) {
	for _, c := range []struct {
		in         money.Currency
		text, says string
	}{
		{euro, "", "like 64.50"}, {yen, "", "like 6450"}, {dinar, "", "like 64.500"}, {euro, "much", "like"}, {euro, "--3", "like"},
		{euro, "+-3", "like"}, {euro, "- 3", "like"}, {euro, "-", "like"}, {euro, ".", "like"}, {euro, "3.", "like"}, {euro, ".5", "like"},
		{euro, "1e3", "like"}, {euro, "1_000", "like"}, {euro, "1 000", "like"}, {euro, "1,000.00", "like"}, {euro, "1.000,00", "like"},
		{euro, "3.-5", "like"}, {euro, "0x10", "like"}, {euro, "NaN", "like"}, {euro, "٣", "like"}, {euro, "64 EUR", "like"},
		{euro, "1.234", "EUR has 2 decimals"}, {yen, "64.5", "JPY has no decimals"}, {yen, "64.0", "JPY has no decimals"},
		{dinar, "1.2345", "KWD has 3 decimals"}, {money.Currency{Code: "TST", Decimals: 1}, "1.23", "TST has 1 decimal"},
		{euro, "10000000000000.01", "too large: at most 10000000000000.00 EUR"}, {yen, "1000000000000001", "too large"},
		{euro, "92233720368547758.08", "too large"}, {euro, strings.Repeat("9", 400), "too large"}, {yen, "-18446744073709551615", "too large"},
	} {
		if got, err := c.in.Parse(c.text); err == nil || !strings.Contains(err.Error(), c.says) || got != 0 {
			t.Errorf("%q %s: %d, %v; want an error that says %q", c.text, c.in.Code, got, err, c.says)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		in     money.Currency
		amount money.Amount
		want   string
	}{
		{euro, 6450, "64.50 EUR"}, {euro, 5, "0.05 EUR"}, {euro, -5, "-0.05 EUR"}, {euro, 0, "0.00 EUR"}, {euro, -100, "-1.00 EUR"},
		{yen, -3, "-3 JPY"}, {yen, 0, "0 JPY"}, {yen, 6450, "6450 JPY"}, {dinar, 1, "0.001 KWD"}, {dinar, 64500, "64.500 KWD"},
		{euro, math.MinInt64, "-92233720368547758.08 EUR"}, {yen, math.MaxInt64, "9223372036854775807 JPY"},
	} {
		if got := c.in.Format(c.amount); got != c.want {
			t.Errorf("%d: %q, want %q", c.amount, got, c.want)
		}
		if got := c.in.Number(c.amount) + " " + c.in.Code; got != c.want {
			t.Errorf("%d as a number: %q, want %q", c.amount, got, c.want)
		}
	}
}

// TestPortion is worked by hand: 250 cents by 1/3 are 83.33 cents, 5 by 1/2 are 2.5 and so 3.
func TestPortion(t *testing.T) {
	for _, c := range []struct {
		a, want  money.Amount
		num, den int64
	}{
		{250, 83, 1, 3}, {250, 167, 2, 3}, {5, 3, 1, 2}, {-5, -3, 1, 2}, {5, -3, -1, 2}, {-5, 3, -1, 2}, {3, 2, 1, 2}, {1, 1, 1, 2},
		{-1, -1, 1, 2}, {1, 0, 49, 100}, {-1, 0, 49, 100}, {1, 1, 50, 100}, {15, 2, 1, 10}, {14, 1, 1, 10}, {-14, -1, 1, 10}, {0, 0, 7, 9},
		{4999, 950, 19, 100}, {4950, 941, 19, 100}, // 949.81 and 940.5: 19 in the hundred
		{1e15, 1e15, 1e15, 1e15}, {-1e15, -1e15, math.MaxInt64, math.MaxInt64}, {1e15, 333333333333333, 1, 3},
		{1e15, math.MaxInt64, 1e15, 1}, {-1e15, -math.MaxInt64, 1e15, 1}, {1e15, 0, 1, math.MaxInt64},
		{6148914691236517205, 6148914691236517205, 3, 3}, // the product of these has 65 bits
	} {
		if got := c.a.Portion(c.num, c.den); got != c.want {
			t.Errorf("%d of %d/%d: %d, want %d", c.a, c.num, c.den, got, c.want)
		}
	}
}

func TestTimes(t *testing.T) {
	for _, c := range []struct {
		a    money.Amount
		n    int
		want money.Amount
	}{{6450, 3, 19350}, {6450, 0, 0}, {-5, 3, -15}, {5, -3, -15}, {1e15, 9000, 9e18}, {1e15, 10000, math.MaxInt64}} {
		if got := c.a.Times(c.n); got != c.want {
			t.Errorf("%d times %d: %d, want %d", c.a, c.n, got, c.want)
		}
	}
}

// TestBill adds up a small bill: three packs of 64.50, an hour and a half at 48.00, and 10 % off it all.
func TestBill(t *testing.T) {
	pack, _ := euro.Parse("64.50")
	hour, _ := euro.Parse("48")
	sum := pack.Times(3) + hour.Portion(90, 60) // 193.50 + 72.00
	if got := euro.Format(sum); got != "265.50 EUR" {
		t.Errorf("before the discount %s", got)
	}
	if got := euro.Format(sum - sum.Portion(10, 100)); got != "238.95 EUR" {
		t.Errorf("after the discount %s", got)
	}
}

// TestNumberIsRead holds every sum to come back from how it is written.
func TestNumberIsRead(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		want := money.Amount(random.Int64N(2*int64(money.Most)+1)) - money.Most
		want >>= random.IntN(50) // small sums as often as large ones
		c := money.Currency{Code: "TST", Decimals: random.IntN(5)}
		if got, err := c.Parse(c.Number(want)); err != nil || got != want {
			t.Fatalf("%d with %d decimals is written %q and comes back as %d, %v", want, c.Decimals, c.Number(want), got, err)
		}
	}
}
