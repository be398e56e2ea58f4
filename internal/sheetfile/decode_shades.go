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
		if t.has("row") {
			t.fail("row", "there are rows, and no shade for their bonds", "add "+t.heading("shade")+` with a line key = "a"`)
			return nil
		}
		return map[byte]bool{usual.Key: true}
	}
	d.sheet.Shades = nil
	if _, single := t.values["shade"].(map[string]any); single {
		t.list("shade") // says so
		return nil
	}
	known, sure := map[byte]bool{}, true
	for _, t := range t.list("shade") {
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
		d.sheet.Shades = append(d.sheet.Shades, shade)
	}
	if !sure {
		return nil
	}
	return known
}

// strand reads what a shade of a sheet and a strand in stock both say of themselves, and reports whether the length is there and
// right.
func (t table) strand(h *sheet.Shade) (long bool) {
	long = number(t, "length", bounds{float64(sheet.MinLength), float64(sheet.MaxLength), " mm"}, &h.Length)
	number(t, "grams", bounds{0.05, 5, " g"}, &h.Grams)
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
