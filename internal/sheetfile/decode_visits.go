package sheetfile

import (
	"slices"
	"strings"

	"example.org/underveil/internal/sheet"
)

// longestVisit is the most seconds that a visit may say, three years: a clock may be put forward meanwhile.
const longestVisit = 1e8

// visited is a visit, and where in the file its parts stand.
type visited struct {
	sheet.Visit
	table
	rows     map[string][]rowAt // of its lists, by key, each in the order of the map
	outcomes []written          // beside Strands
	unsure   bool               // not all that was seen, done and fitted could be read
}

// visits reads the visits and sees to it that each can follow from those before it.
func (d *decoder) visits(t table, shades map[byte]bool) {
	list := t.list("visit")
	c := &course{in: map[sheet.Place]sheet.Row{}}
	for i, t := range list {
		v := d.visit(t, shades)
		if v.Open && i < len(list)-1 {
			t.fail("open", "only the last visit may be open, and there are others after this one", "take this line out, or the visits after it")
		}
		c.follow(v)
		d.sheet.Visits = append(d.sheet.Visits, v.Visit)
	}
}

// visit reads one visit.
func (d *decoder) visit(t table, shades map[byte]bool) *visited {
	v := &visited{table: t, rows: map[string][]rowAt{}}
	t.need("kind", "date")
	word(t, "kind", sheet.VisitKinds, &v.Kind)
	t.date("date", &v.Date)
	t.text("by", &v.By)
	t.notes("notes", &v.Notes)
	t.whole("seconds", bounds{0, longestVisit, ""}, &v.Seconds)
	t.flag("open", &v.Open)
	t.flag("aside", &v.Aside)
	d.fitted(v, shades)
	v.Seen = d.marks(v, "seen", sheet.SeenMarks)
	v.Ticks = d.marks(v, "ticks", sheet.TickMarks)
	d.strands(v, shades)
	return v
}

// fitted reads the bonds that were made. Rows without a bond are dropped.
func (d *decoder) fitted(v *visited, shades map[byte]bool) {
	rows := d.rowsOf(v, "fitted")
	for i := range rows {
		r := &rows[i]
		row := d.bondsFrom(r.written, r.from, r.at, shades)
		if row == nil {
			v.unsure = true
		} else if !row.Empty() {
			v.Fitted = append(v.Fitted, *row)
		}
	}
}

// marks reads the marks of one list of a visit; nil where there are none.
func (d *decoder) marks(v *visited, key string, of []sheet.MarkInfo) sheet.Marks {
	known := func(m sheet.Mark) bool { return isMark(m, of) }
	rows, most := d.rowsOf(v, key), 0
	for i := range rows {
		r := &rows[i]
		most += min(len(r.slots())-strings.Count(r.slots(), "."), 2*sheet.MaxSlot+1)
	}
	all := make(sheet.Marks, most)
	for i := range rows {
		r := &rows[i]
		marks, err := sheet.ParseMarks(r.slots(), known)
		if err != nil {
			d.failMarks(r, err, of)
			v.unsure = true
		}
		for slot, mark := range marks {
			all[sheet.Spot{At: r.at, Slot: slot}] = mark
		}
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

// isMark reports whether a letter is one of some marks, or the capital of one that can be put right.
func isMark(m sheet.Mark, of []sheet.MarkInfo) bool {
	return slices.ContainsFunc(of, func(info sheet.MarkInfo) bool {
		return m == info.Mark || info.Mend != "" && m == info.Mended()
	})
}
