package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

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
		textField("shades", d.hand.Shades, "in turn from the centre outwards, like aab; there are "+shadeList(d.sheet())),
		choiceField("rows", []string{"straight", "offset"}, pick(d.offset, "straight", "offset"), "offset like bricks against the row below"),
		choiceField("sides", []string{"one at a time", "both at once"}, pick(d.both, "one at a time", "both at once"), "a bond placed or lifted on one side is on the other too; so is a row front to back"),
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
	d.chosen = d.chosen || hand.Shades != d.hand.Shades
	d.hand = hand
	d.offset = fm.find("rows").choice() == "offset"
	d.both = fm.find("sides").choice() == "both at once"
	return nil, nil
}

// maxRepeat is the longest repeat of shades.
const maxRepeat = 12

// readShades reads a repeat of shades that the sheet has.
func readShades(s *sheet.Sheet, text string) (string, error) {
	if text == "" || len(text) > maxRepeat {
		return "", fmt.Errorf("shades: from 1 to %d letters of %s", maxRepeat, shadeList(s))
	}
	for _, r := range text {
		switch _, ok := s.Shade(byte(r)); {
		case r < 'a' || r > 'z':
			return "", fmt.Errorf("shades: small letters, and nothing between them. There are %s", shadeList(s))
		case !ok:
			return "", fmt.Errorf("shades: there is no shade %c on this sheet; k adds one. There are %s", r, shadeList(s))
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
