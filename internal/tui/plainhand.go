package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

// takeInHand changes what is in hand by words; without any it asks by the form.
func (p *plain) takeInHand(args string) {
	if args == "" {
		p.call(p.m.command("in-hand"))
		return
	}
	p.changeHand(args)
}

// changeHand changes what is in hand by words, and reports whether they were understood.
func (p *plain) changeHand(args string) bool {
	h, err := parseHand(p.m.doc, args)
	if err != nil {
		p.refuse(err.Error())
		return false
	}
	p.do(func(m *Model) tea.Cmd {
		d := m.doc
		d.chosen = d.chosen || h.Shades != d.hand.Shades
		d.hand, d.offset, d.both = h.Hand, h.offset, h.both
		return nil
	})
	return true
}

// paint paints the row, or what is selected; what is said after it goes in hand first.
func (p *plain) paint(args string) {
	if args != "" && !p.changeHand(args) {
		return
	}
	p.call(p.m.command("paint"))
}

// handSaid is what is in hand, as it was said.
type handSaid struct {
	sheet.Hand
	offset, both bool
}

// ordinalsSaid are the words for how close bonds lie.
var ordinalsSaid = map[string]sheet.Pattern{
	"slot": sheet.EverySlot, "one": sheet.EverySlot, "1": sheet.EverySlot, "first": sheet.EverySlot,
	"second": sheet.EverySecond, "2nd": sheet.EverySecond, "2": sheet.EverySecond, "other": sheet.EverySecond,
	"third": sheet.EveryThird, "3rd": sheet.EveryThird, "3": sheet.EveryThird,
	"fourth": sheet.EveryFourth, "4th": sheet.EveryFourth, "4": sheet.EveryFourth,
}

// parseHand reads what is to be in hand: "every second split b", "xx. trimmed", "oat". What is not said stays.
func parseHand(d *document, text string) (handSaid, error) {
	h := handSaid{d.hand, d.offset, d.both}
	words := strings.Fields(strings.NewReplacer(",", " ", "every-", "every ").Replace(text))
	if why := saidTwice(words); why != "" {
		return h, errors.New(why)
	}
	for i := 0; i < len(words); i++ {
		switch w := strings.ToLower(words[i]); w {
		case "every":
			h.Pattern = sheet.EverySlot
			if i+1 < len(words) {
				if next, ok := ordinalsSaid[strings.ToLower(words[i+1])]; ok {
					h.Pattern = next
					i++
				}
			}
		case "slot", "pattern", "strands", "bonds", "and", "with", "in", "shades", "shade", "rows":
		case "whole":
			h.Split = false
		case "split":
			h.Split = true
		case "full":
			h.Trimmed = false
		case "trim", "trimmed":
			h.Trimmed = true
		case "offset":
			h.offset = true
		case "straight":
			h.offset = false
		case "both", "both-sides":
			h.both = true
		case "one-side":
			h.both = false
		case "sides":
		default:
			if p, err := sheet.ParsePattern(w); err == nil {
				h.Pattern = p
				continue
			}
			shades, used := shadesSaid(d.sheet(), words[i:])
			if used == 0 {
				return h, fmt.Errorf("%s is nothing to take in hand; say how close, whole or split, full or trimmed, and the shade: every second split a. There are %s",
					printable.Quote(words[i]), shadeList(d.sheet()))
			}
			h.Shades = shades
			i += used - 1
		}
	}
	return h, nil
}

// saidTwice says which of some words go against one another, or is empty.
func saidTwice(words []string) string {
	for _, either := range [][]string{{"whole", "split"}, {"full", "trimmed"}, {"full", "trim"}, {"offset", "straight"}, {"both", "one-side"}} {
		var said []string
		for _, w := range words {
			if w = strings.ToLower(w); slices.Contains(either, w) && !slices.Contains(said, w) {
				said = append(said, w)
			}
		}
		if len(said) > 1 {
			return strings.Join(said, " or ") + "? say one of them; nothing is changed"
		}
	}
	how := 0
	for i, w := range words {
		_, written := sheet.ParsePattern(strings.ToLower(w))
		next := ""
		if i+1 < len(words) {
			next = strings.ToLower(words[i+1])
		}
		_, ordinal := ordinalsSaid[next]
		if strings.EqualFold(w, "every") && ordinal || written == nil {
			how++
		}
	}
	if how > 1 {
		return "two ways of how close at once; say one of them; nothing is changed"
	}
	return ""
}

// shadesSaid are the shades that some words begin with, by name or by their letters, and how many of the words that were.
func shadesSaid(s *sheet.Sheet, words []string) (shades string, used int) {
	for n := len(words); n > 0; n-- {
		name := strings.Join(words[:n], " ")
		if i := slices.IndexFunc(s.Shades, func(h sheet.Shade) bool { return strings.EqualFold(h.Name, name) }); i >= 0 {
			return string(rune(s.Shades[i].Key)), n
		}
	}
	if letters, err := readShades(s, words[0]); err == nil {
		return letters, 1
	}
	return "", 0
}
