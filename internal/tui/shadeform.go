package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

const anotherShade = "another"

// shadeForm changes the shades of the sheet and adds one. What was typed for a shade is kept while
// another is looked at, and all of it is taken in the end.
type shadeForm struct {
	*form
	shown  string              // which shade stands in the fields
	drafts map[string][]string // what stands in the fields of each
}

var shadeFields = []string{"name", "length", "grams", "pack", fColour, fTexture, fEnds, fToning}

// The names of the fields of a shade that no other form has.
const (
	fColour = "colour"
	fEnds   = "at full length"
	fToning = "toning"
)

func newShadeForm(m *Model) *form {
	s := m.doc.sheet()
	sf := &shadeForm{drafts: map[string][]string{
		anotherShade: draftOf(sheet.Shade{Length: 500, Grams: 0.8, Pack: 25}),
	}}
	var keys []string
	for _, h := range s.Shades {
		keys = append(keys, string(h.Key))
		sf.drafts[string(h.Key)] = draftOf(h)
	}
	which := choiceField("shade", append(keys, anotherShade), string(m.doc.hand.Shades[0]),
		fmt.Sprintf("left and right choose which; %q adds one", anotherShade))
	which.changed = func(*form) { sf.turn() }
	sf.form = &form{title: "the shades of this sheet", fields: []*field{
		which,
		textField("name", "", "what you call it"),
		textField("length", "", "mm, of the strand").in("mm"),
		textField("grams", "", "of one whole strand").in("g"),
		textField("pack", "", "strands in a pack"),
		textField(fColour, "", "as it was measured: #c9a26b, or L*, a*, b* like 68.2 7.1 24.5; empty where it was not"),
		textField(fTexture, "", "straight, wavy, curly or coily; empty where nobody has said"),
		textField(fEnds, "", "% of its hair that reaches the full length; empty where nobody has said").in("%"),
		textField(fToning, "", "how it is to be toned before the fitting; empty where it is fitted as it is"),
	}, take: sf.take}
	sf.show(which.choice())
	return sf.form
}

// draftOf is a shade as it stands in the fields.
func draftOf(h sheet.Shade) []string {
	ends := ""
	if h.Ends > 0 {
		ends = plainNumber(h.Ends)
	}
	return []string{h.Name, plainNumber(float64(h.Length)), plainNumber(h.Grams), fmt.Sprint(h.Pack), string(h.Colour), h.Texture, ends, h.Toned}
}

// keep remembers what stands in the fields; show puts a shade into them; turn does both.
func (sf *shadeForm) keep() {
	for i, name := range shadeFields {
		sf.drafts[sf.shown][i] = sf.find(name).kept()
	}
}

func (sf *shadeForm) show(which string) {
	sf.shown = which
	for i, name := range shadeFields {
		sf.find(name).put(sf.drafts[which][i])
	}
}

func (sf *shadeForm) turn() {
	sf.keep()
	sf.show(sf.find("shade").choice())
}

// take reads every shade. One that is wrong is shown, with what is wrong about it.
func (sf *shadeForm) take(m *Model, _ *form) (tea.Cmd, error) {
	sf.keep()
	s, looked := m.doc.sheet(), sf.shown
	next := slices.Clone(s.Shades)
	which := sf.find("shade")
	for i, name := range which.options {
		isNew := name == anotherShade
		if isNew && sf.drafts[name][0] == "" && looked != name {
			continue // none was added
		}
		which.chosen = i
		sf.show(name)
		shade, err := sf.read()
		if err != nil {
			return nil, err
		}
		if !isNew {
			shade.Key = name[0]
			shade.Used, shade.Retipped, shade.Was = next[i].Used, next[i].Retipped, next[i].Was
			next[i] = shade
			continue
		}
		if shade.Key = s.FreeKey(); shade.Key == 0 {
			return nil, errors.New("all 26 letters are taken")
		}
		next = append(next, shade)
	}
	if slices.Equal(next, s.Shades) {
		return nil, nil
	}
	err := m.doc.do("change the shades", s.With(func(c *sheet.Sheet) { c.Shades = next }))
	if n := changedInHead(s, next); err == nil && n > 0 {
		m.warn(fmt.Sprintf("%s of what was changed in the head: what is recorded of them reads otherwise now; %s takes it back", areIn(n), m.keyOf("undo")))
	}
	if err == nil && len(next) > len(s.Shades) { // what was just added is what is wanted
		m.doc.hand.Shades = string(next[len(next)-1].Key)
	}
	return nil, err
}

// read is the shade that stands in the fields, without its letter.
func (sf *shadeForm) read() (sheet.Shade, error) {
	shade := sheet.Shade{Name: sf.find("name").text()}
	if shade.Name == "" {
		return shade, &fieldError{"name", "a shade needs one"}
	}
	length, err := sf.find("length").number(50, 1200)
	if err != nil {
		return shade, err
	}
	grams, err := sf.find("grams").number(sheet.MinGrams, sheet.MaxGrams)
	if err != nil {
		return shade, err
	}
	pack, err := sf.find("pack").whole(1, 1000)
	if err != nil {
		return shade, err
	}
	shade.Length, shade.Grams, shade.Pack = scalp.MM(length), grams, int(pack)
	err = sf.readLook(&shade)
	return shade, err
}

// readLook reads what the strands look like.
func (sf *shadeForm) readLook(h *sheet.Shade) (err error) {
	if h.Colour, err = sf.find(fColour).colour(); err != nil {
		return err
	}
	if h.Texture = sf.find(fTexture).text(); h.Texture != "" && !slices.Contains(sheet.Textures, h.Texture) {
		return &fieldError{fTexture, "one of " + strings.Join(sheet.Textures, ", ") + ", or nothing"}
	}
	h.Ends, err = sf.find(fEnds).numberIfKnown(1, 100)
	h.Toned = sf.find(fToning).text()
	return err
}

// changedInHead is how many bonds are in the head of shades that are no longer as they were.
func changedInHead(s *sheet.Sheet, next []sheet.Shade) int {
	n := 0
	for _, h := range visit.Now(s) {
		had, _ := s.Shade(h.Shade)
		if !slices.Contains(next, had) {
			n++
		}
	}
	return n
}
