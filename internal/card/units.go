package card

import (
	"fmt"
	"math"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/unit"
)

// showIn puts the lengths in what the card says into a unit, for whoever works with tapes in it. Inches have two decimals, a quarter of a mm,
// as on the screen, and no sixteenths: a first hole that is out by half of one shifts every bond of its row. The
// heights, which name the rows on the map and in the program, stay in mm, and have the other figure beside them.
func (c *content) showIn(u unit.Unit, s *sheet.Sheet) {
	c.unit = u
	if u == unit.MM {
		return
	}
	var keep []string
	for _, text := range s.Typed() {
		keep = append(keep, text, clipped(text, longName), clipped(text, longText), clipped(text, longReason))
	}
	in := func(text *string) { *text = unit.In(*text, u, keep...) }
	for i, p := range c.pieces {
		l := &c.lines[i]
		l.strip, l.first = bareFigure(p.Strip.Length, u), fromIn(p.Strip.First, p.Place, u)
		switch {
		case !p.Along:
			l.place = number(p.At) + ", " + bareFigure(p.At, u)
		case p.At != 0:
			l.place += ", " + bareFigure(scalp.MM(math.Abs(float64(p.At))), u)
		}
	}
	in(&c.aside)
	for i := range c.totals {
		in(&c.totals[i].of)
	}
	for _, list := range [][]string{c.leftOut, c.accepted, c.layOut, c.home.worn} {
		for i := range list {
			in(&list[i])
		}
	}
	for i := range c.home.dates {
		in(&c.home.dates[i].what)
	}
}

// bareFigure is a length without its unit, which the table says once.
func bareFigure(v scalp.MM, u unit.Unit) string {
	if u == unit.MM {
		return number(v)
	}
	text := unit.Figure(v, u)
	return text[:len(text)-len(" in")]
}

// fromIn is how far something lies from the centre, and on which side.
func fromIn(at scalp.MM, row sheet.Place, u unit.Unit) string {
	minus, plus := row.Ways()
	switch text := bareFigure(scalp.MM(math.Abs(float64(at))), u); {
	case number(at) == "0":
		return "centre"
	case at < 0:
		return text + " " + minus
	default:
		return text + " " + plus
	}
}

// inAll is a length of strip to have at hand.
func inAll(v scalp.MM, u unit.Unit) string {
	if u == unit.Inch {
		return fmt.Sprintf("%.0f in", math.Ceil(float64(v)/u.MM()))
	}
	return fmt.Sprintf("%.1f m", float64(v)/1000)
}

// note is what the figures of the table are.
func (c *content) note() string {
	rest := fmt.Sprintf(" from the centre or over the ears, strips with %s at each end; 7+8: cut in such parts.", bareFigure(tally.ClipEnd, c.unit))
	const heights = "Heights from the nape hairline"
	switch c.unit {
	case unit.CM:
		return "In cm. " + heights + ", after their name on the map, which is in mm. First hole" + rest
	case unit.Inch:
		return "In inches. " + heights + ", after their name on the map, which is in mm. First hole" + rest
	}
	return "In mm. " + heights + ", first hole" + rest
}
