package unit

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// In is a text with every length in it that is given in mm shown in another unit: "14.4 mm from the nape hairline,
// at least 20.0 mm" in inches is "0.57 in from the nape hairline, at least 0.79 in". In MM it is the text itself, at no cost.
//
// A length is a number with mm right after it, or two of them, "100 to 150 mm", "between 4 and 12 mm", "8 by 4.5 mm",
// "10-20 mm". Areas (mm²), figures per mm ("47 hairs/mm"), depths that stand for hairs ("25 mm of scalp") and words that hold the two letters
// are none. A line with a sum in
// it, one with " × " or " = ", is left as it is: it would not come out in other figures.
//
// A length keeps as many decimals as it takes to say as much: in cm one more than in mm, in inches two, and one more than in mm
// where that is more. Of two lengths, one right after the other, the longer one still reads longer: a limit and what falls short of it by a
// tenth would be alike otherwise. A whole number of mm gets no zeros at its end.
// A number after two blanks or more stands in a column, and its end stays where it was.
//
// keep are texts of other people, which may stand in this one: lengths within them stay as they were written. In of its own
// result is the same text.
func In(text string, u Unit, keep ...string) string {
	if u == MM || !strings.Contains(text, "mm") {
		return text
	}
	shown, alike := rewrite(text, u, 0, keep)
	if alike {
		shown, _ = rewrite(text, u, 1, keep)
	}
	return shown
}

// rewrite does the work of In with some decimals more; alike is true where a length no longer reads longer or shorter than the one
// before it.
func rewrite(text string, u Unit, more int, keep []string) (shown string, alike bool) {
	var out []byte // nil as long as nothing has changed
	done := 0      // how much of the text is in out
	var was, wasShown figure
	for l, ok := next(text, 0); ok; l, ok = next(text, l.end) {
		if inSum(text, l) || kept(text, l, keep) {
			continue
		}
		if out == nil {
			out = make([]byte, 0, len(text)+16)
		}
		out = append(out, text[done:l.first]...)
		begun := len(out)
		if l.first != l.second { // a range
			out = l.low.in(u, more).append(out)
			out = append(out, text[l.firstEnd:l.second]...)
		}
		high := l.high.in(u, more)
		if done > 0 && high.compare(wasShown) != l.high.compare(was) {
			alike = true
		}
		was, wasShown = l.high, high
		out = inColumn(high.append(out), begun, l.secondEnd-l.first)
		out = append(out, text[l.secondEnd:l.end-len("mm")]...)
		out = append(out, u.String()...)
		done = l.end
	}
	if out == nil {
		return text, false
	}
	return string(append(out, text[done:]...)), alike
}

// inColumn keeps the end of a number where it was in its line, as far as there are blanks to give or take before it: two of them stand
// before a number in a column. out ends in the number, which begins at a place in it and was so many letters long.
func inColumn(out []byte, begins, was int) []byte {
	blanks := begins
	for blanks > 0 && out[blanks-1] == ' ' {
		blanks--
	}
	by := len(out) - begins - was // it is longer
	if begins-blanks < 2 || blanks == 0 || out[blanks-1] == '\n' || by == 0 {
		return out
	}
	number := string(out[begins:])
	out = out[:blanks]
	for range max(1, begins-blanks-by) {
		out = append(out, ' ')
	}
	return append(out, number...)
}

// length is a length in a text: where its number stands, or the two of a range, and where it ends, after "mm".
type length struct {
	first, firstEnd   int // the number, or the first of a range
	second, secondEnd int // the number, or the second of a range
	end               int
	low, high         figure
}

// next finds the first length that ends after a place in the text.
func next(text string, from int) (l length, ok bool) {
	for {
		i := strings.Index(text[from:], "mm")
		if i < 0 {
			return length{}, false
		}
		i += from
		from = i + len("mm")
		if !ends(text[from:]) {
			continue
		}
		stop := len(strings.TrimSuffix(strings.TrimSuffix(text[:i], " "), "\u00a0"))
		at, high, found := numberBefore(text[:stop])
		if !found {
			continue
		}
		l = length{at, stop, at, stop, from, high, high}
		if low, lowEnd, f, isRange := rangeBefore(text[:at]); isRange {
			l.first, l.firstEnd, l.low = low, lowEnd, f
			return l, true
		}
		if begins(text[:at]) {
			return l, true
		}
	}
}

// ends reports whether a unit is whole with what comes after it: "mm²", "mm/day", "mmol", "5 mm.toml" and "5 mm of scalp" are
// other things.
func ends(rest string) bool {
	r, n := utf8.DecodeRuneInString(rest)
	switch {
	case n == 0:
		return true
	case strings.HasPrefix(rest, " of scalp"): // how much of it hair grows on that covers a bond: a factor, as a density is
		return false
	case unicode.IsLetter(r) || unicode.IsNumber(r) || strings.ContainsRune("/_^", r):
		return false
	case r == '.':
		after, _ := utf8.DecodeRuneInString(rest[n:])
		return !unicode.IsLetter(after) && !unicode.IsNumber(after)
	}
	return true
}

// begins reports whether a number can begin after a text: not within a word, a path or another number.
func begins(before string) bool {
	r, n := utf8.DecodeLastRuneInString(before)
	if n > 0 && strings.ContainsRune("-+−", r) {
		r, n = utf8.DecodeLastRuneInString(before[:len(before)-n])
	}
	return n == 0 || !unicode.IsLetter(r) && !unicode.IsNumber(r) && !strings.ContainsRune(`_/\#.,`, r)
}

// joints stand between the two numbers of a range.
var joints = []string{" to ", " by ", " and ", "-", "–"}

// rangeBefore is the first number of a range of which the text holds all before the second.
func rangeBefore(text string) (at, end int, f figure, ok bool) {
	signed := strings.TrimSuffix(strings.TrimSuffix(text, "-"), "+")
	for _, joint := range joints {
		head, found := strings.CutSuffix(text, joint)
		if !found && joint[0] == ' ' {
			head, found = strings.CutSuffix(signed, joint)
		}
		if !found {
			continue
		}
		at, f, ok = numberBefore(head)
		ok = ok && begins(head[:at])
		if joint == " and " { // "row 3 and 12 mm" is no range
			ok = ok && strings.HasSuffix(strings.TrimRight(head[:at], "-+"), "between ")
		}
		return at, len(head), f, ok
	}
	return 0, 0, figure{}, false
}

// numberBefore is the number that a text ends in, and where it begins.
func numberBefore(text string) (at int, f figure, ok bool) {
	at = len(text)
	for at > 0 && (text[at-1] >= '0' && text[at-1] <= '9' || text[at-1] == '.' || text[at-1] == ',') {
		at--
	}
	f, ok = parse(text[at:])
	return at, f, ok
}

// inSum reports whether a length stands in a line with a sum in it.
func inSum(text string, l length) bool {
	line := text[strings.LastIndexByte(text[:l.first], '\n')+1:]
	if end := strings.IndexByte(line, '\n'); end >= 0 {
		line = line[:end]
	}
	return strings.Contains(line, " × ") || strings.Contains(line, " = ")
}

// kept reports whether a length stands within one of the texts of other people.
func kept(text string, l length, keep []string) bool {
	for _, k := range keep {
		if k == "" {
			continue
		}
		for from := 0; ; {
			i := strings.Index(text[from:], k)
			if i < 0 {
				break
			}
			if i += from; i <= l.first && l.end <= i+len(k) {
				return true
			}
			from = i + 1
		}
	}
	return false
}
