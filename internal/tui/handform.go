package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

const asWritten = "as written below"

// newHandForm changes what is in hand.
func newHandForm(m *Model) *form {
	d := m.doc
	var patterns []string
	for _, p := range sheet.Patterns {
		patterns = append(patterns, p.String())
	}
	chosen := d.hand.Pattern.String()
	if !slices.Contains(patterns, chosen) {
		chosen = asWritten
	}
	pick := func(second bool, a, b string) string {
		if second {
			return b
		}
		return a
	}
	return &form{title: "in hand", fields: []*field{
		choiceField("pattern", append(patterns, asWritten), chosen, "which slots are used; left and right change it"),
		textField("written", string(d.hand.Pattern), "x a slot used, . a slot left, from the centre outwards: xx."),
		choiceField("strand", []string{"whole", "split"}, pick(d.hand.Split, "whole", "split"), "split: halved lengthwise, half the hair and half the load"),
		choiceField("bond", []string{"full height", "trimmed"}, pick(d.hand.Trimmed, "full height", "trimmed"), "trimmed: the top of the bond cut off, to hide better"),
		textField("shades", d.hand.Shades, "one letter, or a repeat from the centre outwards: aab. On this sheet: "+shadeList(d.sheet())),
		choiceField("rows", []string{"straight", "offset"}, pick(d.offset, "straight", "offset"), "offset like bricks against the row below"),
		choiceField("sides", []string{"one at a time", "both at once"}, pick(d.both, "one at a time", "both at once"), "what is done on one side is done on the other"),
	}, take: takeHand}
}

func shadeList(s *sheet.Sheet) string {
	var names []string
	for _, h := range s.Shades {
		names = append(names, string(h.Key)+" "+h.Name)
	}
	return strings.Join(names, ", ")
}

func takeHand(m *Model, fm *form) (tea.Cmd, error) {
	d := m.doc
	hand := sheet.Hand{Split: fm.find("strand").choice() == "split", Trimmed: fm.find("bond").choice() == "trimmed"}
	pattern := fm.find("pattern")
	var err error
	if pattern.choice() == asWritten {
		hand.Pattern, err = sheet.ParsePattern(fm.find("written").text())
	} else {
		hand.Pattern = sheet.Patterns[pattern.chosen]
	}
	if err != nil {
		return nil, err
	}
	if hand.Shades, err = readShades(d.sheet(), fm.find("shades").text()); err != nil {
		return nil, err
	}
	d.hand = hand
	d.offset = fm.find("rows").choice() == "offset"
	d.both = fm.find("sides").choice() == "both at once"
	return nil, nil
}

// readShades reads a repeat of shades that the sheet has.
func readShades(s *sheet.Sheet, text string) (string, error) {
	const most = 12
	if text == "" || len(text) > most {
		return "", fmt.Errorf("shades: from 1 to %d letters of %s", most, shadeList(s))
	}
	for i := range len(text) {
		if _, ok := s.Shade(text[i]); !ok {
			return "", fmt.Errorf("shades: there is no shade %q on this sheet; k adds one. There are %s", text[i:i+1], shadeList(s))
		}
	}
	return text, nil
}

// newPatternPrompt writes a pattern.
func newPatternPrompt(m *Model) *form {
	return &form{title: "write a pattern", fields: []*field{
		textField("pattern", string(m.doc.hand.Pattern), "x a slot used, . a slot left, from the centre outwards: xx."),
	}, take: func(m *Model, fm *form) (tea.Cmd, error) {
		p, err := sheet.ParsePattern(fm.find("pattern").text())
		if err == nil {
			m.doc.hand.Pattern = p
		}
		return nil, err
	}}
}

const anotherShade = "another"

// newShadeForm changes the shades of the sheet, or adds one.
func newShadeForm(m *Model) *form {
	s := m.doc.sheet()
	var keys []string
	for _, h := range s.Shades {
		keys = append(keys, string(h.Key))
	}
	which := choiceField("shade", append(keys, anotherShade), string(m.doc.hand.Shades[0]), "left and right choose which")
	which.changed = func(fm *form) { fillShade(s, fm) }
	fm := &form{title: "the shades of this sheet", fields: []*field{
		which,
		textField("name", "", "what you call it"),
		textField("length", "", "mm"),
		textField("grams", "", "of one whole strand"),
		textField("pack", "", "strands in a pack"),
	}, take: takeShade}
	fillShade(s, fm)
	return fm
}

func fillShade(s *sheet.Sheet, fm *form) {
	shade := sheet.Shade{Name: "", Length: 500, Grams: 0.8, Pack: 25}
	if which := fm.find("shade").choice(); which != anotherShade {
		shade, _ = s.Shade(which[0])
	}
	if fm.at != 0 { // being typed into
		return
	}
	fm.find("name").input.SetValue(shade.Name)
	fm.find("length").input.SetValue(fmt.Sprintf("%g", float64(shade.Length)))
	fm.find("grams").input.SetValue(fmt.Sprintf("%g", shade.Grams))
	fm.find("pack").input.SetValue(fmt.Sprintf("%d", shade.Pack))
}

func takeShade(m *Model, fm *form) (tea.Cmd, error) {
	s := m.doc.sheet()
	length, err := fm.find("length").number(50, 1200)
	if err != nil {
		return nil, err
	}
	grams, err := fm.find("grams").number(0.05, 5)
	if err != nil {
		return nil, err
	}
	pack, err := fm.find("pack").number(1, 1000)
	if err != nil {
		return nil, err
	}
	shade := sheet.Shade{Name: fm.find("name").text(), Length: scalp.MM(length), Grams: grams, Pack: int(pack)}
	if shade.Name == "" {
		return nil, errors.New("name: a shade needs one")
	}
	next := slices.Clone(s.Shades)
	if which := fm.find("shade").choice(); which != anotherShade {
		shade.Key = which[0]
		for i := range next {
			if next[i].Key == shade.Key {
				next[i] = shade
			}
		}
	} else {
		if shade.Key = freeKey(s); shade.Key == 0 {
			return nil, errors.New("all 26 letters are taken")
		}
		next = append(next, shade)
		m.doc.hand.Shades = string(shade.Key)
	}
	if slices.Equal(next, s.Shades) {
		return nil, nil
	}
	return nil, m.doc.do("change the shades", s.With(func(c *sheet.Sheet) { c.Shades = next }))
}

// freeKey is the first letter that no shade has, or 0.
func freeKey(s *sheet.Sheet) byte {
	for k := byte('a'); k <= 'z'; k++ {
		if _, taken := s.Shade(k); !taken {
			return k
		}
	}
	return 0
}
