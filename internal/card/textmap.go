package card

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// signs are the marks of the map as text, each one column wide. They are those of the map on the screen.
type signs struct {
	whole, split, trimmed, both rune
	scalp, hatch, parting, keep rune
	stop                        rune
}

var (
	unicodeSigns = signs{'●', '◐', '◒', '◔', '·', '░', '╱', '×', '╳'}
	asciiSigns   = signs{'O', 'C', 'u', 'c', '.', ':', '/', 'x', 'X'}
)

func (g signs) bond(b sheet.Bond) rune {
	switch {
	case b.Split && b.Trimmed:
		return g.both
	case b.Split:
		return g.split
	case b.Trimmed:
		return g.trimmed
	}
	return g.whole
}

// textMap is the map in letters: a column for each slot, a line for each line, the nape at the bottom.
type textMap struct {
	cells  [][]rune // from the top down
	taken  [][]bool // where a bond or a number stands
	middle int      // column of slot 0
	lines  int
}

// gutter is the room for the heights at the left of the map.
const gutter = 5

// mapText is the map as text. One that is wider than a page of text is cut into parts, from left to right, that stand one below
// the other.
func (c *Card) mapText(ascii bool) string {
	g := unicodeSigns
	if ascii {
		g = asciiSigns
	}
	m := c.textMap(g)
	if m.lines == 0 {
		return "there is no hair within the hairline\n"
	}
	var b strings.Builder
	whole := len(m.cells[0])
	const room = textWidth - gutter
	parts := (whole + room - 1) / room
	for from := 0; from < whole; from += room {
		if parts > 1 {
			fmt.Fprintf(&b, "part %d of %d, from the client's left to the right\n", from/room+1, parts)
		}
		to := min(whole, from+room)
		for y, row := range m.cells {
			b.WriteString(strings.TrimRight(c.heightText(len(m.cells)-1-y)+string(row[from:to]), " ") + "\n")
		}
	}
	for _, line := range wrapText(strings.Join(c.legendText(g), "   "), textWidth) {
		b.WriteString(line + "\n")
	}
	b.WriteString("The client's left is on the left.\n")
	return b.String()
}

// heightText is what stands in the gutter of a line: its height, on every second line and on those with a row.
func (c *Card) heightText(line int) string {
	l := c.table.Lines[line]
	if _, has := c.sheet.Row(l.Place()); !has && line%2 != 0 {
		return strings.Repeat(" ", gutter)
	}
	return fmt.Sprintf("%3.0f", float64(l.ID.At)) + strings.Repeat(" ", gutter-3)
}

func (c *Card) textMap(g signs) *textMap {
	half := 0
	for _, l := range c.table.Lines {
		half = max(half, -l.First, l.Last())
	}
	m := &textMap{middle: half, lines: len(c.table.Lines)}
	for range m.lines {
		m.cells = append(m.cells, []rune(strings.Repeat(" ", 2*half+1)))
		m.taken = append(m.taken, make([]bool, 2*half+1))
	}
	zones := rule.ZonesOf(c.sheet)
	touched := map[rule.Zone][]int{} // the lines that each zone touches, from the nape up
	for i, l := range c.table.Lines {
		for k := range l.Slots {
			if s := &l.Slots[k]; s.OnScalp {
				zone := zones.In(s)
				m.put(i, l.First+k, g.ground(zone), false)
				if on := touched[zone]; len(on) == 0 || on[len(on)-1] != i {
					touched[zone] = append(on, i)
				}
			}
		}
	}
	stops := openStops(c.rep)
	for _, p := range c.pieces {
		for _, b := range p.Bonds {
			sign := g.bond(b.Bond)
			if stops[sheet.Spot{At: p.Place, Slot: b.Slot}] {
				sign = g.stop
			}
			if at, ok := c.onMap(p.Place, b.Slot); ok {
				m.put(at.Line, at.Slot, sign, true)
			}
		}
	}
	for i, p := range c.pieces {
		first, ok1 := c.onMap(p.Place, p.Bonds[0].Slot)
		last, ok2 := c.onMap(p.Place, p.Bonds[len(p.Bonds)-1].Slot)
		if ok1 && ok2 {
			m.number(strconv.Itoa(i+1), first, last, p.Panel == slots.RightSide, p.Along)
		}
	}
	c.nameZones(m, touched)
	return m
}

// nameZones writes the name of each zone once, in the blank beside or above one of the lines that it touches; as on the screen.
func (c *Card) nameZones(m *textMap, touched map[rule.Zone][]int) {
	leftOf := func(line int, name string) slots.Spot {
		first, _ := c.table.Lines[line].HairEnds()
		return slots.Spot{Line: line, Slot: first - len(name) - 2}
	}
	for zone := rule.NapeZone; zone < rule.KeepOffZone; zone++ {
		lines, name := touched[zone], zoneName(zone)
		if len(lines) == 0 {
			continue
		}
		at := leftOf(lines[0], name)
		switch zone {
		case rule.NapeZone:
			at = leftOf(lines[min(1, len(lines)-1)], name)
		case rule.FringeZone:
			at = leftOf(lines[len(lines)-1], name)
		case rule.PartZone:
			_, last := c.table.Lines[lines[len(lines)-1]].HairEnds()
			at = slots.Spot{Line: lines[len(lines)-1], Slot: last + 2}
		case rule.TempleZone, rule.FaceZone:
			if round := c.table.Round(); round > 0 {
				first, _ := c.table.Lines[round-1].HairEnds()
				at = slots.Spot{Line: round, Slot: first}
			}
		}
		if m.blank(at, len(name)) {
			m.write(at, name)
		}
	}
}

// write writes a word from a cell on.
func (m *textMap) write(at slots.Spot, text string) {
	for i, r := range text {
		m.put(at.Line, at.Slot+i, r, true)
	}
}

// blank reports whether nothing at all is drawn in some cells of the map.
func (m *textMap) blank(at slots.Spot, width int) bool {
	if !m.free(at, width) {
		return false
	}
	y, x := m.lines-1-at.Line, m.middle+at.Slot
	return strings.TrimSpace(string(m.cells[y][x:x+width])) == ""
}

// onMap is the line and the slot in which a slot of a row is drawn; ok is false off the map.
func (c *Card) onMap(at sheet.Place, slot int) (slots.Spot, bool) {
	line, err := c.table.Line(at)
	if err != nil {
		return slots.Spot{}, false
	}
	if !at.Along {
		return slots.Spot{Line: c.table.Index(line), Slot: slot}, true
	}
	if i := slot - line.First; i >= 0 && i < len(line.Drawn) {
		return line.Drawn[i], true
	}
	return slots.Spot{}, false
}

func (g signs) ground(z rule.Zone) rune {
	switch z {
	case rule.NoZone:
		return g.scalp
	case rule.PartZone:
		return g.parting
	case rule.KeepOffZone:
		return g.keep
	}
	return g.hatch
}

// put puts a sign into the cell of a slot. Beyond the ends of the map there is none.
func (m *textMap) put(line, slot int, r rune, taken bool) {
	y, x := m.lines-1-line, m.middle+slot
	if y < 0 || y >= m.lines || x < 0 || x >= len(m.cells[y]) {
		return
	}
	m.cells[y][x] = r
	m.taken[y][x] = m.taken[y][x] || taken
}

// number writes the number of a piece at its outer end, or else near it where nothing stands.
func (m *textMap) number(text string, first, last slots.Spot, right, along bool) {
	left := []slots.Spot{{Line: first.Line, Slot: first.Slot - len(text) - 1}, {Line: first.Line, Slot: first.Slot - len(text)}}
	beyond := []slots.Spot{{Line: last.Line, Slot: last.Slot + 2}, {Line: last.Line, Slot: last.Slot + 1}}
	above := []slots.Spot{{Line: last.Line + 1, Slot: last.Slot}, {Line: first.Line - 1, Slot: first.Slot}, {Line: first.Line + 1, Slot: first.Slot}}
	places := append(append(left, beyond...), above...)
	switch {
	case along:
		places = append(append(above, left...), beyond...)
	case right:
		places = append(append(beyond, left...), above...)
	}
	for _, at := range places {
		if m.free(at, len(text)) {
			m.write(at, text)
			return
		}
	}
}

func (m *textMap) free(at slots.Spot, width int) bool {
	y, x := m.lines-1-at.Line, m.middle+at.Slot
	if y < 0 || y >= m.lines || x < 0 || x+width > len(m.cells[y]) {
		return false
	}
	for i := range width {
		if m.taken[y][x+i] {
			return false
		}
	}
	return true
}

// legendText explains the signs that are on the map.
func (c *Card) legendText(g signs) []string {
	var list []string
	for _, k := range c.kindsPlaced() {
		list = append(list, string(g.bond(k))+letter.NoBreak+strings.ReplaceAll(kindName(k.Split, k.Trimmed), " ", letter.NoBreak))
	}
	if len(openStops(c.rep)) > 0 {
		list = append(list, string(g.stop)+letter.NoBreak+"stop, not accepted")
	}
	return append(list, string(g.hatch)+letter.NoBreak+"keep free", string(g.parting)+letter.NoBreak+"parting")
}
