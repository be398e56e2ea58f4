package sheetfile

import (
	"fmt"
	"regexp"
	"strings"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/printable"
)

// The largest sum that is taken for a price, in whole units of a currency.
const (
	mostWithDecimals    money.Amount = 100_000
	mostWithoutDecimals money.Amount = 10_000_000
)

// sum reads a sum of money from its digits in the file, which never become a float. While the currency is not known it
// reads none.
func (d *studioDecoder) sum(t table, key string, to *money.Amount) {
	if !t.has(key) || !d.priced {
		return
	}
	currency := d.studio.Currency
	how := "write it like " + key + " = " + exampleSum(currency)
	digits, problem := t.digits(key)
	if problem != "" {
		t.fail(key, problem, how)
		return
	}
	amount, err := currency.Parse(digits)
	switch most := largestSum(currency); {
	case err != nil:
		problem, _, _ := strings.Cut(err.Error(), ": write ")
		problem, _, _ = strings.Cut(problem, ": at most ") // of all sums, and not of a price
		t.fail(key, inWords(key)+" "+problem, how)
	case strings.HasPrefix(digits, "-"):
		t.fail(key, inWords(key)+" "+digits+" is below zero", how)
	case amount > most:
		t.fail(key, fmt.Sprintf("%s %s: at most %s fits", inWords(key), currency.Format(amount), currency.Format(most)),
			"take out the digits that are too many; the currency of this file is "+currency.Code)
	default:
		*to = amount
	}
}

// plainSum is a sum as it may stand in a file: digits, which TOML lets stand in groups with _ between them, and decimals.
var plainSum = regexp.MustCompile(`^[+-]?[0-9]+(_[0-9]+)*(\.[0-9]+(_[0-9]+)*)?$`)

// longestSum is the length of a sum, in bytes, with room for blanks.
const longestSum = 40

// digits is a sum of money as it stands in the file, or what is wrong with it.
func (t table) digits(key string) (digits, problem string) {
	name := inWords(key)
	switch v := t.values[key].(type) {
	case string:
		if len(v) > longestSum {
			return "", name + " " + printable.Quote(v) + " is no sum of money"
		}
		return strings.TrimSpace(v), ""
	case int64, float64:
		stands, found := t.places[t.path.key(key)]
		raw := t.document.text[stands.value.from:stands.value.to]
		if !found || len(raw) > longestSum || !plainSum.MatchString(raw) {
			return "", name + " " + printable.Quote(raw) + " is no sum of money: there are digits and a point in one, and nothing else"
		}
		return strings.ReplaceAll(raw, "_", ""), ""
	default:
		return "", name + " is " + kindOf(v) + ", and should be a sum of money"
	}
}

// largestSum is the largest sum of a currency that is taken for a price.
func largestSum(c money.Currency) money.Amount {
	if c.Decimals == 0 {
		return mostWithoutDecimals
	}
	most := mostWithDecimals
	for range c.Decimals {
		most *= 10
	}
	return most
}

// exampleSum is a sum that shows how one is written: 62.50, or 6250 in a currency without decimals.
func exampleSum(c money.Currency) string {
	example := money.Amount(6250)
	for i := 2; i < c.Decimals; i++ {
		example *= 10
	}
	return c.Number(example)
}
