package letter

import (
	"slices"

	"github.com/go-text/typesetting/bidi"
	unicodebidi "golang.org/x/text/unicode/bidi"
)

// rightToLeft reports whether the first letter of a text that has a direction runs from right to left (rules P2 and P3 of
// the Unicode bidirectional algorithm, UAX 9).
func rightToLeft(text string) bool {
	for _, r := range text {
		switch class(r) {
		case unicodebidi.L:
			return false
		case unicodebidi.R, unicodebidi.AL:
			return true
		}
	}
	return false
}

func class(r rune) unicodebidi.Class {
	p, _ := unicodebidi.LookupRune(r)
	return p.Class()
}

// levels are the embedding levels of a text without marks of direction, rune by rune. The library works them out but tells
// even from odd only. That is the whole of it in a line that runs from right to left, where levels are 1 and 2. In the other
// kind they are 0, 1 and 2, and 2 is what has to do with a number that stands among text from right to left.
func levels(p *bidi.Paragraph, text []rune, rtl bool) []int8 {
	list := make([]int8, len(text))
	base := bidi.LeftToRight
	if rtl {
		base = bidi.RightToLeft
	}
	runs := p.Segment(text, base)
	for i := range runs.NumRuns() {
		run := runs.Run(i)
		for k := run.Start; k < run.End; k++ {
			switch {
			case run.Level%2 != 0:
				list[k] = 1
			case rtl:
				list[k] = 2
			}
		}
	}
	if !rtl {
		raiseNumbers(text, list)
	}
	return list
}

// raiseNumbers gives the level 2 to numbers that stand among text from right to left, and to the signs that belong to
// them: rules W2 to W7 and I1 of UAX 9, as far as they tell a number from a letter.
func raiseNumbers(text []rune, levels []int8) {
	strong := unicodebidi.L
	for i, r := range text {
		c := class(r)
		switch {
		case c == unicodebidi.L || c == unicodebidi.R || c == unicodebidi.AL:
			strong = c
		case levels[i] != 0:
		case c == unicodebidi.AN, c == unicodebidi.EN && strong != unicodebidi.L, i > 0 && levels[i-1] == 2 && ofNumber(c):
			levels[i] = 2
		}
	}
	for i := len(text) - 2; i >= 0; i-- { // a sign of money before its sum
		if levels[i] == 0 && levels[i+1] == 2 && class(text[i]) == unicodebidi.ET {
			levels[i] = 2
		}
	}
	for i := len(text) - 1; i > 0; i-- { // a separator that has no number after it separates nothing
		if c := class(text[i]); levels[i] == 2 && (c == unicodebidi.ES || c == unicodebidi.CS) && (i+1 == len(text) || levels[i+1] != 2) {
			levels[i] = 0
		}
	}
}

func ofNumber(c unicodebidi.Class) bool {
	switch c {
	case unicodebidi.ES, unicodebidi.CS, unicodebidi.ET, unicodebidi.NSM, unicodebidi.BN:
		return true
	}
	return false
}

// inOrder are the items of a line from left to right (rule L2 of UAX 9): from the highest level down, each stretch of that
// level or a higher one is turned round.
func inOrder(items []item) []item {
	highest := int8(0)
	for _, it := range items {
		highest = max(highest, it.level)
	}
	for level := highest; level > 0; level-- {
		for i := 0; i < len(items); i++ {
			from := i
			for i < len(items) && items[i].level >= level {
				i++
			}
			slices.Reverse(items[from:i])
		}
	}
	return items
}

// fromTheLeft is the text of a glyph in the order in which it stands on the line, brackets turned as they are seen.
func fromTheLeft(text string, level int8) string {
	if level%2 == 1 {
		return unicodebidi.ReverseString(text)
	}
	return text
}
