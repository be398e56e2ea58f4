package unit

import (
	"cmp"
	"strconv"
	"strings"
)

// figure is a number as it is written: units of its last decimal, so that nothing is rounded on the way.
type figure struct {
	units    uint64
	decimals int
}

// mostDigits is how long a number of mm may be; a longer one is no length of anything here.
const mostDigits = 9

// parse reads a number: digits, decimals after a point, thousands parted by commas.
func parse(text string) (f figure, ok bool) {
	whole, decimals, pointed := strings.Cut(text, ".")
	groups := strings.Split(whole, ",")
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && (g == "" || len(g) > 3) {
			return f, false
		}
	}
	if pointed && decimals == "" || strings.ContainsAny(decimals, ".,") {
		return f, false
	}
	digits := strings.Join(groups, "") + decimals
	if digits == "" || len(digits) > mostDigits {
		return f, false
	}
	units, err := strconv.ParseUint(digits, 10, 64)
	return figure{units, len(decimals)}, err == nil
}

// compare tells which of two figures is the longer.
func (f figure) compare(g figure) int {
	return cmp.Compare(f.units*tenTo(g.decimals), g.units*tenTo(f.decimals))
}

// in is a figure of mm in another unit, with some decimals more.
func (f figure) in(u Unit, more int) figure {
	var out figure
	var least int // down to how many decimals zeros go from the end
	switch u {
	case CM:
		out = figure{f.units, f.decimals + 1}
		least = out.decimals
	default: // an inch has 254 tenths of a mm
		out.decimals = max(2, f.decimals+1) + more
		for out.units = 0; ; out.decimals++ {
			out.units = (f.units*tenTo(out.decimals-f.decimals)*10 + 127) / 254
			if out.units > 0 || f.units == 0 { // what is there does not become nothing
				break
			}
		}
		if least = out.decimals; f.decimals > 2 { // which nobody measures: it was typed in inches
			least = 2
		}
	}
	if f.decimals == 0 {
		least = 0
	}
	for out.decimals > least && out.units%10 == 0 {
		out = figure{out.units / 10, out.decimals - 1}
	}
	return out
}

// append writes the figure.
func (f figure) append(out []byte) []byte {
	out = strconv.AppendUint(out, f.units/tenTo(f.decimals), 10)
	if f.decimals == 0 {
		return out
	}
	out = append(out, '.')
	rest := f.units % tenTo(f.decimals)
	for d := f.decimals - 1; d > 0 && rest < tenTo(d); d-- {
		out = append(out, '0')
	}
	return strconv.AppendUint(out, rest, 10)
}

func tenTo(n int) uint64 {
	v := uint64(1)
	for range n {
		v *= 10
	}
	return v
}
