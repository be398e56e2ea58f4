package tui

import (
	"errors"
	"strings"
	"testing"

	"example.org/underveil/internal/sheet"
)

// evil is text that a terminal would obey or a reader could not see: a window title, colours, a cleared screen, C1
// controls, marks that turn the direction, joiners, a byte that is no UTF-8, and line breaks.
const evil = "\x1b]0;gone\a\x1b[31;7m\x1b[2J\x1b[?1049l\u009b5m\u202e\u2066\u200b\u200d\ufeff\u00ad\u2028\x7f\b\r\n\t\xff\U000e0001 end"

// evilSheet has it in every text of a sheet. The decoder would have cleaned it, so it is built by hand.
func evilSheet(t testing.TB) *sheet.Sheet {
	return demoSheet(t).With(func(c *sheet.Sheet) {
		c.Title, c.Client, c.Notes, c.Date = "title"+evil, "client"+evil, evil, evil
		c.Shades = []sheet.Shade{
			{Key: 'a', Name: "shade" + evil, Length: 500, Grams: 0.8, Pack: 25},
			{Key: 'b', Name: "山田" + evil + "e\u0301", Length: 500, Grams: 0.8, Pack: 25},
		}
		c.KeepOff = []sheet.KeepOff{{Height: 100, Radius: 12, Why: evil}}
		c.Hair.Density, c.Hair.Texture = evil, evil
		c.Accepted = []sheet.Accepted{{Concern: sheet.Concern{Rule: "nape", Row: height(20), On: sheet.OnSlot, Slot: 4},
			Reason: "reason" + evil, By: evil, Date: evil}}
	})
}

// Nothing of it reaches the terminal, whatever screen it is on: the driver looks after every key.
func TestHostileSheet(t *testing.T) {
	walks := [][]string{
		{"i", "Tab", "Tab", "Esc"}, {"b", "Tab", "Tab", "Tab", "Tab", "Esc"}, {"k", "Right", "Tab", "Right", "Backspace", "Enter"},
		{"Tab"}, {"Tab"}, {"Tab"}, {"S", "Backspace", "Esc"}, {"S", "Enter"}, {"z", "Right", "Esc"}, {"space", "q", "Esc"}, {"L"},
	}
	for _, size := range sizes {
		for _, g := range glyphSets {
			e := edit(t, evilSheet(t), setup{w: size[0], h: size[1], glyphs: g.glyphs})
			e.says("title\ufffd")
			e.at(height(20), 4)
			e.says("reason\ufffd")
			e.press("e", "Esc", "a", "a")
			e.m.pop()
			e.at(height(40), -8)
			for _, keys := range walks {
				e.press(keys...)
			}
		}
	}
}

// Names of files, notices and errors may hold anything as well.
func TestHostileFiles(t *testing.T) {
	bad := []Demo{{Name: "demo" + evil, About: "about" + evil, Data: []byte("title = \"" + evil + "\"")}}
	for _, g := range glyphSets {
		d := folder(t, "one.toml"+evil)
		d.here = []string{"here" + evil, "one.toml" + evil}
		d.notices = []string{"notice" + evil}
		e := start(t, setup{disk: d, demos: bad, glyphs: g.glyphs})
		e.says("one.toml\ufffd")
		e.press("Down", "Enter") // the demo can't be read
		e.says("this can't be opened")
		e.press("Enter", "Up", "Enter")
		e.says("notice\ufffd")
		e.press("ctrl+o", "Down", "Down", "Esc")
		d.trouble = errors.New("trouble" + evil + strings.Repeat(" and more "+evil, 40))
		e.press("space", "ctrl+s")
		e.says("trouble\ufffd")
		e.press("Enter")
		d.trouble = nil
		e.press("S", "Enter")
		e.press("S")
		e.write("typed")
		e.press("Enter")
		e.says("saved to typed.toml")
		e.m.doc.path = "path" + evil
		e.press("ctrl+s")
		e.says("saved to path\ufffd")
	}
}

// Text that is too long for its place is cut, and pushes nothing out of the way.
func TestLongText(t *testing.T) {
	long := strings.Repeat("a rather long name 山田 ", 40)
	s := demoSheet(t).With(func(c *sheet.Sheet) {
		c.Title, c.Client = long, long
		c.Shades = []sheet.Shade{{Key: 'a', Name: long, Length: 500, Grams: 0.8, Pack: 25}, {Key: 'b', Name: long, Length: 500, Grams: 0.8, Pack: 25}}
		c.Accepted = []sheet.Accepted{{Concern: sheet.Concern{Rule: "nape", Row: height(20), On: sheet.OnSlot, Slot: 4}, Reason: long}}
	})
	for _, size := range sizes {
		for _, g := range glyphSets {
			e := edit(t, s, setup{w: size[0], h: size[1], glyphs: g.glyphs})
			e.press("space") // not saved
			e.says("not saved")
			e.says("stop")
			e.at(height(20), 4)
			e.press("e", "Esc", "Tab", "Tab", "Tab", "i", "Enter", "b", "Esc", "k", "Esc", "S", "Esc", "L", "z", "Esc")
			for _, place := range []sheet.Place{height(40), along(-16)} {
				e.at(place, 0)
			}
		}
	}
}
