package figure

import (
	"fmt"

	"example.org/underveil/internal/rule"
)

// heights writes the heights in the gutter: of every second line, and of every line with a row.
func (d *drawing) heights() {
	for i, l := range d.Ground.Table.Lines {
		_, y, ok := d.cell(i, 0)
		_, has := d.Sheet.Row(l.Place())
		ink := Scalp
		if has {
			ink = Label
		}
		if ok && (has || i%2 == 0) {
			d.scr.Text(d.area.X, y, min(4, d.area.W), ink, fmt.Sprintf("%3.0f", float64(l.ID.At)))
		}
	}
}

// zoneNames says where the name of each zone is written: in the blank beside or above one of the
// lines that the zone touches, listed from the nape up.
var zoneNames = []struct {
	zone  rule.Zone
	name  string
	place func(d *drawing, lines []int, width int) (x, y int)
}{
	{rule.FringeZone, "fringe", func(d *drawing, lines []int, w int) (x, y int) { return d.leftOf(lines[len(lines)-1], w) }},
	{rule.PartZone, "part", func(d *drawing, lines []int, _ int) (x, y int) { return d.rightOf(lines[len(lines)-1]) }},
	{rule.TempleZone, "temples", (*drawing).aboveSides},
	{rule.FaceZone, "face", (*drawing).aboveSides}, // where the temples' own limit is the smaller
	{rule.EarZone, "ears", func(d *drawing, lines []int, w int) (x, y int) { return d.leftOf(lines[0], w) }},
	{rule.NapeZone, "nape", func(d *drawing, lines []int, w int) (x, y int) { return d.leftOf(lines[min(1, len(lines)-1)], w) }},
}

// names writes each zone's name once, where there is room.
func (d *drawing) names() {
	for _, n := range zoneNames {
		lines := d.linesWith(n.zone)
		if len(lines) == 0 {
			continue
		}
		x, y := n.place(d, lines, len(n.name))
		if d.blank(x, y, len(n.name)) {
			ink, _ := d.Glyphs.zone(n.zone)
			d.scr.Text(x, y, len(n.name), ink, n.name)
		}
	}
}

func (d *drawing) leftOf(line, width int) (x, y int) {
	first, _ := d.Ground.Table.Lines[line].HairEnds()
	x, y, _ = d.cell(line, first)
	return x - width - 2, y
}

func (d *drawing) rightOf(line int) (x, y int) {
	_, last := d.Ground.Table.Lines[line].HairEnds()
	x, y, _ = d.cell(line, last)
	return x + d.step + 1, y
}

// aboveSides is above the left end of the uppermost level line, where the top is narrower.
func (d *drawing) aboveSides([]int, int) (x, y int) {
	uppermost := d.Ground.Table.Round() - 1
	if uppermost < 0 {
		return -1, -1
	}
	first, _ := d.Ground.Table.Lines[uppermost].HairEnds()
	x, y, _ = d.cell(uppermost+1, first)
	return x, y
}

// blank reports whether nothing is drawn in some cells, all of them in the area and
// outside the gutter.
func (d *drawing) blank(x, y, width int) bool {
	if y < d.area.Y || y >= d.area.Y+d.area.H || x < d.area.X+Gutter || x+width > d.area.X+d.area.W {
		return false
	}
	for i := range width {
		if d.scr.At(x+i, y).Rune != ' ' {
			return false
		}
	}
	return true
}

// linesWith are the indexes of the lines that a zone touches, from the nape up.
func (d *drawing) linesWith(z rule.Zone) []int {
	var with []int
	for i := range d.Ground.zones {
		for k, zone := range d.Ground.zones[i] {
			if zone == z && d.Ground.Table.Lines[i].Slots[k].OnScalp {
				with = append(with, i)
				break
			}
		}
	}
	return with
}
