package sheetfile

import (
	"fmt"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

// shades reads the shades and returns their letters, or nil if there is no telling which letters are meant.
func (d *decoder) shades(t table) map[byte]bool {
	usual := d.sheet.Shades[0]
	if !t.has("shade") {
		for _, has := range []string{"row", "visit"} {
			if t.has(has) {
				t.fail(has, "there are "+has+"s, and no shade for their bonds", "add "+t.heading("shade")+` with a line key = "a"`)
				return nil
			}
		}
		return map[byte]bool{usual.Key: true}
	}
	d.sheet.Shades = nil
	if _, single := t.values["shade"].(map[string]any); single {
		t.list("shade") // says so
		return nil
	}
	known, sure := map[byte]bool{}, true
	list := t.list("shade")
	for _, t := range list {
		shade := usual
		ok := t.need("key") && t.letter("key", &shade.Key)
		switch {
		case !ok:
			sure = false
		case known[shade.Key]:
			t.fail("key", fmt.Sprintf("the letter %c is taken by another shade", shade.Key), "take another letter")
		default:
			known[shade.Key] = true
		}
		shade.Name = fmt.Sprintf("shade %c", shade.Key)
		t.text("name", &shade.Name)
		t.strand(&shade)
		t.text("toned", &shade.Toned)
		t.whole("used", bounds{0, mostUsed, " times"}, &shade.Used)
		t.whole("retipped", bounds{0, mostUsed, " times"}, &shade.Retipped)
		t.letter("was", &shade.Was)
		d.sheet.Shades = append(d.sheet.Shades, shade)
	}
	if !sure {
		return nil
	}
	for i, t := range list {
		switch shade := d.sheet.Shades[i]; {
		case shade.Was == 0 || known[shade.Was] && shade.Was != shade.Key:
		case shade.Was == shade.Key:
			t.fail("was", fmt.Sprintf("shade %c cannot have been itself before", shade.Key),
				"give the letter that these strands had before they got new tips, or take the line out")
		default:
			t.fail("was", noShade(shade.Was), otherShade(shade.Was, known))
		}
	}
	return known
}

// mostUsed is how often strands may have been in a head, or got a new tip: far more often than they last.
const mostUsed = 50

// strand reads what a shade of a sheet and a strand in stock both say of themselves, and reports whether the length is there and
// right.
func (t table) strand(h *sheet.Shade) (long bool) {
	long = number(t, "length", bounds{float64(sheet.MinLength), float64(sheet.MaxLength), " mm"}, &h.Length)
	number(t, "grams", bounds{sheet.MinGrams, sheet.MaxGrams, " g"}, &h.Grams)
	t.whole("pack", bounds{1, 1000, ""}, &h.Pack)
	t.colour("colour", &h.Colour)
	word(t, "texture", sheet.Textures, &h.Texture)
	number(t, "ends", bounds{1, 100, " %"}, &h.Ends)
	return long
}

// letter reads the letter of a shade.
func (t table) letter(key string, to *byte) bool {
	s, ok := t.str(key)
	switch {
	case !ok:
		return false
	case len(s) != 1 || s[0] < 'a' || s[0] > 'z':
		t.fail(key, fmt.Sprintf("%s is no letter for a shade", printable.Quote(s)), "take one small letter from a to z")
		return false
	}
	*to = s[0]
	return true
}
