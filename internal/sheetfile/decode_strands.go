package sheetfile

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// mostPieces is the most pieces of one kind that can come out: every slot of every row.
const mostPieces = mostRows * (2*sheet.MaxSlot + 1)

// outcomeWords are the words of an outcome, in the order in which they are written.
var outcomeWords = []string{"retipped", "halved", "kept", "thrown", "cut", "into"}

// strands reads what became of the strands that came out.
func (d *decoder) strands(v *visited, shades map[byte]bool) {
	texts, _ := v.texts("strands")
	told := map[visit.Kind]bool{}
	for _, w := range texts {
		o, ok := d.outcome(v.table, w, shades)
		kind := visit.Kind{Shade: o.Shade, Split: o.Split}
		if ok && told[kind] {
			d.failWithin(w, wordAt(w.text, 0), "strands: there is a text about these already", "put both into one text")
			ok = false
		}
		if ok {
			told[kind] = true
			v.Strands = append(v.Strands, o)
			v.outcomes = append(v.outcomes, w)
		}
	}
}

// outcome reads what became of the strands of one kind.
func (d *decoder) outcome(t table, w written, shades map[byte]bool) (o sheet.Outcome, ok bool) {
	letter := wordAt(w.text, 0)
	word := letter.of(w.text)
	if o.Split = len(word) == 1 && word[0] >= 'A' && word[0] <= 'Z'; o.Split {
		word = strings.ToLower(word)
	}
	if o.Shade, ok = shadeLetter(word); !ok {
		d.failWithin(w, letter, "strands: a text begins with the letter of a shade, a capital for halves", "write it like "+t.sample(t.name, "strands"))
		return o, false
	}
	if shades != nil && !shades[o.Shade] {
		d.failWithin(w, letter, noShade(o.Shade), otherShade(o.Shade, shades))
		ok = false
	}
	said := map[string]span{}
	for at := wordAt(w.text, letter.to); at.from < at.to; at = wordAt(w.text, at.to) {
		name, value, _ := strings.Cut(at.of(w.text), "=")
		problem, remedy := setOutcome(&o, name, value, shades)
		if _, again := said[name]; again {
			problem, remedy = "strands: "+name+" is given twice", "keep one of the two"
		}
		if problem != "" {
			d.failWithin(w, at, problem, remedy)
			return o, false
		}
		said[name] = at
	}
	return o, ok && d.makesSense(w, letter, said, o)
}

// setOutcome reads the value of one of the words, or says what is wrong with it.
func setOutcome(o *sheet.Outcome, name, value string, shades map[byte]bool) (problem, remedy string) {
	switch name {
	case "retipped":
		return pieces(name, value, &o.Retipped)
	case "halved":
		return pieces(name, value, &o.Halved)
	case "kept":
		return pieces(name, value, &o.Kept)
	case "thrown":
		return pieces(name, value, &o.Thrown)
	case "cut":
		mm, ok := plainNumber(value)
		if !ok {
			return "strands: cut needs a number of mm, without blanks", "write it like cut=10"
		}
		o.Cut = scalp.MM(mm + 0)
		return bounds{0, float64(sheet.MaxLength), " mm"}.check("strands: cut", mm)
	case "into":
		key, ok := shadeLetter(value)
		switch {
		case !ok:
			return "strands: into needs the letter of a shade, without blanks", "write it like into=b"
		case shades != nil && !shades[key]:
			return noShade(key), otherShade(key, shades)
		case key == o.Shade:
			return fmt.Sprintf("strands: shade %c cannot become itself", key), "give the letter of the shade that stands for the strands with new tips"
		}
		o.Into = key
		return "", ""
	}
	return "strands: there is no " + printable.Quote(name), oneOf(name, outcomeWords)
}

// pieces reads a number of pieces.
func pieces(name, value string, to *int) (problem, remedy string) {
	n, err := strconv.Atoi(value)
	if err != nil || n < 0 || n > mostPieces {
		return "strands: " + name + " needs a whole number of pieces, without blanks", "write it like " + name + "=12"
	}
	*to = n
	return "", ""
}

// makesSense reports what an outcome says that cannot be of strands of its kind, each word where it stands.
func (d *decoder) makesSense(w written, letter span, said map[string]span, o sheet.Outcome) bool {
	fail := func(at span, problem, remedy string) bool {
		d.failWithin(w, at, "strands: "+problem, remedy)
		return false
	}
	tipped := o.Retipped+o.Halved > 0
	switch {
	case o.Split && o.Halved > 0:
		return fail(said["halved"], "a half is not halved again", "count it as re-tipped, kept or thrown")
	case o.Pieces() == 0:
		return fail(letter, "nothing is said of any piece", "add how many were retipped, halved, kept or thrown, or take the text out")
	case tipped && o.Into == 0:
		return fail(letter, "some have new tips, and there is no shade for them", "add into= and the letter of the shade that stands for them")
	case !tipped && o.Cut > 0:
		return fail(said["cut"], "something was cut, and none has a new tip", "take cut out, or add how many were retipped or halved")
	case !tipped && o.Into != 0:
		return fail(said["into"], "there is a shade for those with new tips, and none has one", "take into out, or add how many were retipped or halved")
	}
	return true
}

// shadeLetter is the small letter of a shade that a word is.
func shadeLetter(word string) (key byte, ok bool) {
	if len(word) != 1 || word[0] < 'a' || word[0] > 'z' {
		return 0, false
	}
	return word[0], true
}
