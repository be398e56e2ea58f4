// Package money is sums of money in whole smallest units of a currency: cents, or yen. There is no float
// in it.
package money

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"

	"golang.org/x/text/currency"
)

// Currency is a currency by its ISO 4217 code, with how many decimals its sums have.
type Currency struct {
	Code     string
	Decimals int
}

// Amount is a sum in the smallest unit of its currency.
type Amount int64

// Most is the largest sum that is read, either side of zero: 10^15 smallest units. It leaves room to add up and
// to multiply in an Amount, and nothing here costs as much.
const Most Amount = 1e15

// Of is the currency with a code, in capitals or not. The decimals are those of the Unicode CLDR, from the tables
// of golang.org/x/text. They are ISO 4217's, but for some two dozen currencies whose small coins are out of use,
// like COP, IDR and RSD: these have none.
func Of(code string) (Currency, error) {
	unit, err := currency.ParseISO(strings.TrimSpace(code))
	if err != nil {
		return Currency{}, fmt.Errorf("%q is no currency that is known: write its code of three letters, like \"EUR\"", code)
	}
	decimals, _ := currency.Standard.Rounding(unit)
	return Currency{Code: unit.String(), Decimals: decimals}, nil
}

// Parse reads a sum: "64", "64.5", "64,50", with a sign or without. It is exact, and knows no groups of
// thousands. The error says what was not understood, or how many decimals the currency has.
func (c Currency) Parse(text string) (Amount, error) {
	text = strings.TrimSpace(text)
	unsigned, negative := strings.CutPrefix(text, "-")
	if !negative {
		unsigned = strings.TrimPrefix(text, "+")
	}
	whole, decimals, pointed := strings.Cut(strings.Replace(unsigned, ",", ".", 1), ".")
	if !digits(whole) || pointed && !digits(decimals) {
		return 0, fmt.Errorf("%q is no sum of money: write it like %s", text, c.Number(c.example()))
	}
	if len(decimals) > c.Decimals {
		return 0, fmt.Errorf("%q has too many decimals: %s", text, c.hasDecimals())
	}
	// The digits without the point, filled up with zeros, are the sum in smallest units.
	v, err := strconv.ParseInt(whole+decimals+strings.Repeat("0", c.Decimals-len(decimals)), 10, 64)
	if err != nil || Amount(v) > Most {
		return 0, fmt.Errorf("%q is too large: at most %s", text, c.Format(Most))
	}
	if negative {
		v = -v
	}
	return Amount(v), nil
}

// digits reports whether text is digits, and at least one.
func digits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}

// example is a sum that shows how one is written: 64.50, or 6450 in a currency without decimals.
func (c Currency) example() Amount {
	example := Amount(6450)
	for i := 2; i < c.Decimals; i++ {
		example *= 10
	}
	return example
}

// hasDecimals says how many decimals the currency has.
func (c Currency) hasDecimals() string {
	switch c.Decimals {
	case 0:
		return c.Code + " has no decimals"
	case 1:
		return c.Code + " has 1 decimal"
	}
	return fmt.Sprintf("%s has %d decimals", c.Code, c.Decimals)
}

// Format writes a sum with its currency: "64.50 EUR", "-3 JPY".
func (c Currency) Format(a Amount) string { return c.Number(a) + " " + c.Code }

// Number writes a sum without its currency, with all its decimals: "64.50". Parse reads it back.
func (c Currency) Number(a Amount) string {
	sign, size := "", uint64(a)
	if a < 0 {
		sign, size = "-", -size // in uint64, where the size of the least Amount has room too
	}
	text := fmt.Sprintf("%0*d", c.Decimals+1, size)
	if c.Decimals == 0 {
		return sign + text
	}
	point := len(text) - c.Decimals
	return sign + text[:point] + "." + text[point:]
}

// Times is the sum n times over. What has no room in an Amount becomes the largest that has.
func (a Amount) Times(n int) Amount { return a.Portion(int64(n), 1) }

// Portion is num/den of the sum, rounded to whole smallest units and from halves away from zero, as one does on
// a bill. den is above zero. What has no room in an Amount becomes the largest that has.
func (a Amount) Portion(num, den int64) Amount {
	product := new(big.Int).Mul(big.NewInt(int64(a)), big.NewInt(num))
	sign := product.Sign()
	// Half a den is added to the size of the product, and then the rest cut off: (2·size + den) / 2·den.
	size := product.Abs(product)
	size.Lsh(size, 1).Add(size, big.NewInt(den))
	size.Quo(size, new(big.Int).Lsh(big.NewInt(den), 1))
	if !size.IsInt64() {
		size.SetInt64(math.MaxInt64)
	}
	return Amount(int64(sign) * size.Int64())
}
