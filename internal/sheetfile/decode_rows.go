package sheetfile

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// tallest is the greatest height that any head may have, and besideMiddle where a row front to back may lie.
const tallest = 600

var besideMiddle = bounds{-250, 250, " mm"}

// rows reads the rows and puts them in the order of the map. Rows without a bond are dropped.
func (d *decoder) rows(t table, shades map[byte]bool) {
	first := map[sheet.Place]int{} // the line of the file that gives the place
	for _, t := range t.list("row") {
		at, ok := d.place(t)
		if !ok && !t.has("height") && !t.has("along") {
			t.failHere(t.heading("row")+" does not say where it lies",
				"add a line like "+t.sample("row", "height")+", or along for a row front to back")
		}
		if ok && d.table != nil {
			// A row that this head has no room for is kept, and a rule reports it: the tapes may be what is wrong.
			_, err := d.table.Line(at)
			if err != nil && !(errors.Is(err, slots.ErrOffHead) && (at.Along || at.At >= 0) && at.At <= tallest) {
				t.fail(placeKey(at), err.Error(), "give the row a line of the map")
				ok = false
			}
		}
		if ok {
			d.taken(t, at, first)
		}
		row := sheet.Row{Place: at}
		if bonds := t.bonds(at, shades); bonds != nil {
			row = *bonds
		}
		word(t, "look", sheet.Looks, &row.Look)
		t.flag("offset", &row.Offset)
		d.sheet = d.sheet.WithRow(row)
	}
}

// taken reports a second row at one place.
func (d *decoder) taken(t table, at sheet.Place, first map[sheet.Place]int) {
	key := placeKey(at)
	line, _ := d.lineAt(t.at(key).value.from)
	if other := first[at]; other > 0 {
		t.fail(key, fmt.Sprintf("there is a row at %s already, on line %d", at, other), "put the bonds of both into one row")
		return
	}
	first[at] = line
}

// bonds reads the bonds of a row; nil if they are not right.
func (t table) bonds(at sheet.Place, shades map[byte]bool) *sheet.Row {
	if !t.need("bonds") {
		return nil
	}
	text, ok := t.str("bonds")
	if !ok {
		return nil
	}
	return t.bondsFrom(written{t.at("bonds"), text}, 0, at, shades)
}

// bondsFrom reads the bonds of a row that stand in a text from a byte on; nil if they are not right.
func (r *reader) bondsFrom(w written, from int, at sheet.Place, shades map[byte]bool) *sheet.Row {
	text := w.text[from:]
	row, err := sheet.ParseBonds(at, text)
	var wrong *sheet.TextError
	if errors.As(err, &wrong) {
		problem, remedy := explainBonds(text, wrong)
		r.failInside(w, from+wrong.At, problem, remedy)
		return nil
	}
	told := [26]bool{}
	for i := range len(text) {
		key := text[i] | 0x20 // lower case
		if key < 'a' || key > 'z' || shades == nil || shades[key] || told[key-'a'] {
			continue
		}
		told[key-'a'] = true
		r.failInside(w, from+i, noShade(key), otherShade(key, shades))
	}
	return &row
}

func noShade(key byte) string { return fmt.Sprintf("there is no shade %c on this sheet", key) }

const howBonds = "write the slots from left to right, the centre in brackets, like a.A.(a).A'.a"

// explainBonds names the usual slips in a row's string.
func explainBonds(text string, wrong *sheet.TextError) (problem, remedy string) {
	if wrong.At >= len(text) {
		return wrong.Problem, howBonds
	}
	r, _ := utf8.DecodeRuneInString(text[wrong.At:])
	if name := blankName(r); name != "" {
		return "there is " + name + " in the row", "take it out; an empty slot is a dot"
	}
	if r == '\'' {
		return explainTrim(text[:wrong.At], wrong.Problem)
	}
	return wrong.Problem, howBonds
}

// explainTrim is about a trim mark that belongs to no bond; before is the row up to it.
func explainTrim(before, otherwise string) (problem, remedy string) {
	centre := centreBond.FindStringSubmatch(before)
	switch {
	case strings.HasSuffix(before, "'") || centre != nil && centre[2] != "":
		return "the bond is marked as trimmed already: one ' is enough", "take this one out"
	case centre != nil:
		return "the ' of a trimmed centre bond stands inside the brackets", "write (" + centre[1] + "')"
	}
	return otherwise, howBonds
}

// centreBond is a bond in brackets, and its trim mark if it has one.
var centreBond = regexp.MustCompile(`\(([A-Za-z])('?)\)$`)

func otherShade(key byte, shades map[byte]bool) string {
	remedy := fmt.Sprintf("add %s with key = \"%c\"", headSheet.heading("shade"), key)
	if len(shades) > 0 {
		known := string(slices.Sorted(maps.Keys(shades)))
		remedy += ", or take " + orList(strings.Split(known, ""))
	}
	return remedy
}

// placeKey is the key that gives a place.
func placeKey(at sheet.Place) string {
	if at.Along {
		return "along"
	}
	return "height"
}

// place reads where a row lies; ok is false when there is no place or a wrong one. A number that means a line of the
// map is taken for exactly that line.
func (d *decoder) place(t table) (at sheet.Place, ok bool) {
	if t.has("height") && t.has("along") {
		t.fail("along", "a row has a height or lies along, not both", "take one of the two out")
		return at, false
	}
	if at.Along = t.has("along"); at.Along {
		ok = number(t, "along", besideMiddle, &at.At)
	} else {
		ok = number(t, "height", bounds{-1e6, 1e6, " mm"}, &at.At) // more digits could not be written again
	}
	return d.onLine(at), ok
}

// onLine is the place of the line of the map that is meant by a place within a millionth of it; any other place stays.
func (d *decoder) onLine(at sheet.Place) sheet.Place {
	step := d.sheet.LineGap
	if at.Along {
		step = d.sheet.HoleSpacing
	}
	if exact := scalp.MM(math.Round(float64(at.At/step))) * step; math.Abs(float64(exact-at.At)) < 1e-6 {
		at.At = exact
	}
	return at
}
