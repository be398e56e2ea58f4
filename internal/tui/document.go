package tui

import (
	"fmt"
	"slices"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// document is the sheet being edited with all that is worked out from it, the
// cursor on it and what is in hand.
type document struct {
	history        *sheet.History
	saved          *sheet.Sheet    // as on disk; nil for a sheet never saved
	path           string          // where it is saved, or empty
	stamp          string          // of the file as this program knows it
	gone           *sheet.Sheet    // as the file had it that is not there any more
	told           string          // the stamp of the file that was last spoken of
	glance         string          // of the file when it was last looked at
	held           held            // from other windows
	saves, adopted int             // of the saves the number begun, and of the one whose file this has
	saving         map[string]bool // the paths that it is being written to
	practice       *practice       // the exercise that it is an attempt at, or nil
	inAgain        bool            // it was said where the strands of the refit go in again
	kept           kept            // what is not saved, for after a crash

	table  *slots.Table
	zones  rule.Zones
	ground *figure.Ground
	report *rule.Report
	totals tally.Totals
	own    float64 // grams of own hair; 0 where nobody said how long it is

	cursor figure.Spot
	wanted int // the slot that the cursor goes back to where a line is wide enough
	picked *selection
	moving *moving // the stretch being moved, or nil
	hand   sheet.Hand
	chosen bool // somebody has chosen the shades in hand
	both   bool // what is placed or lifted on one side is on the other too
	offset bool // rows are painted offset against the row below
	copied *sheet.Row
	shown  int          // index of the finding that was in view last
	wentTo *figure.Spot // where going to it led, or nil
	drag   *drag
	keys   *keymap // in force, for what is told; nil for those that commands come with
	steady string  // the item whose change goes on as one step, or empty
}

// newDocument opens a sheet, with the slot table at hand where it is for the same head, or nil. Its error
// says what on the sheet does not fit a head.
func newDocument(s *sheet.Sheet, path string, have *slots.Table) (*document, error) {
	table, err := slots.For(s, have)
	if err != nil {
		return nil, err
	}
	d := &document{history: sheet.NewHistory(s), path: path, table: table}
	d.hand, d.offset = handFor(s)
	if path != "" {
		d.saved = s
	}
	d.workOut(true)
	d.cursor = figure.Spot{At: d.firstPlace()}
	return d, nil
}

// firstPlace is where work begins: the lowest row there is, or else the lowest line
// whose middle is out of the nape zone.
func (d *document) firstPlace() sheet.Place {
	if rows := d.sheet().Rows; len(rows) > 0 && !rows[0].Along {
		if _, err := d.table.Line(rows[0].Place); err == nil {
			return rows[0].Place
		}
	}
	for _, l := range d.table.Lines {
		if on := l.At(0); on != nil && d.zones.Free(on) {
			return l.Place()
		}
	}
	return d.table.Lines[0].Place()
}

func (d *document) sheet() *sheet.Sheet { return d.history.Sheet() }

// changed reports whether there is something that saving would keep. What is practised is kept as it is made.
func (d *document) changed() bool {
	return d.practice == nil && d.sheet() != d.saved
}

// do makes an edit as one step of the history, or says why it can't be.
func (d *document) do(label string, s *sheet.Sheet) error {
	d.steady = ""
	return d.step(s, func() { d.history.Do(label, s) })
}

// goOn makes an edit that is part of the step before when that step was about the
// same item, so that holding a key down is one step.
func (d *document) goOn(item, label string, s *sheet.Sheet) error {
	going := d.steady == item
	err := d.extend(&going, label, s)
	if going {
		d.steady = item
	}
	return err
}

// extend makes an edit that is part of a gesture: a step of its own to begin with, and then
// the same step for as long as the gesture goes on.
func (d *document) extend(going *bool, label string, s *sheet.Sheet) error {
	return d.step(s, func() {
		if *going {
			d.history.Amend(label, s)
		} else {
			d.history.Do(label, s)
		}
		*going = true
	})
}

func (d *document) step(s *sheet.Sheet, commit func()) error {
	old := d.sheet()
	if s == old {
		return nil
	}
	if err := shadesKnown(s); err != nil {
		return err
	}
	if d.practice != nil {
		if err := d.practice.x.Allows(s); err != nil {
			return err
		}
	}
	if s.HoleSpacing != old.HoleSpacing {
		if in := len(visit.Now(old)); in > 0 {
			return fmt.Errorf("hole spacing: %s in the head, counted in holes %g mm apart; take them out first", areIn(in), float64(old.HoleSpacing))
		}
	}
	table, err := slots.For(s, d.table)
	if err != nil {
		return err
	}
	commit()
	d.follow(old, table)
	return nil
}

// follow brings everything up to date with the sheet that the history has arrived at, coming from
// an old one.
func (d *document) follow(old *sheet.Sheet, table *slots.Table) {
	fresh := table != d.table
	d.table = table
	d.workOut(fresh || !sameLimits(old, d.sheet()))
}

// areIn is how many bonds there are, as the beginning of a sentence.
func areIn(n int) string {
	if n == 1 {
		return "1 bond is"
	}
	return fmt.Sprintf("%d bonds are", n)
}

// shadesKnown says which shade of a bond is not on the sheet: its file could not be read
// again. A hand or a copied row can outlive a shade that was taken back.
func shadesKnown(s *sheet.Sheet) error {
	rows := s.Rows
	for _, v := range s.Visits {
		rows = append(slices.Clip(rows), v.Fitted...)
	}
	for _, r := range rows {
		for _, b := range r.All() {
			if _, ok := s.Shade(b.Shade); !ok {
				return fmt.Errorf("there is no shade %c on this sheet; k adds one", b.Shade)
			}
		}
	}
	return nil
}

// sameLimits reports whether the zones of two sheets reach equally far.
func sameLimits(a, b *sheet.Sheet) bool {
	if a.Nape() != b.Nape() {
		return false
	}
	for _, l := range sheet.Limits {
		va, _ := a.Limit(l.Name)
		vb, _ := b.Limit(l.Name)
		if va != vb {
			return false
		}
	}
	return true
}

// undo and redo move through the history and say what they did.
func (d *document) undo() string {
	return d.travel(d.history.Undo, "taken back: %s", "nothing to take back")
}

func (d *document) redo() string {
	return d.travel(d.history.Redo, "done again: %s", "nothing to do again")
}

func (d *document) travel(move func() (string, bool), did, nothing string) string {
	d.steady, d.picked, d.moving = "", nil, nil
	old := d.sheet()
	label, ok := move()
	if !ok {
		return nothing
	}
	table, err := slots.For(d.sheet(), d.table)
	if err != nil { // every sheet in the history has had a table
		return err.Error()
	}
	d.follow(old, table)
	return fmt.Sprintf(did, label)
}

// workOut brings findings and totals up to date; and the zones, where they may
// have changed.
func (d *document) workOut(zones bool) {
	s := d.sheet()
	if zones {
		d.zones = rule.ZonesOf(s)
		d.ground = figure.NewGround(d.table, d.zones)
		d.keepOnMap()
		rule.Prepare(s, d.table)
	}
	var inView sheet.Concern
	if d.report != nil && d.shown < len(d.report.Findings) {
		inView = d.report.Findings[d.shown].Concern
	}
	d.report = rule.Check(s, d.table)
	if d.hiding() {
		d.report = &rule.Report{}
	}
	for i, f := range d.report.Findings { // the one in view stays in view
		if f.Concern == inView {
			d.shown = i
		}
	}
	d.totals = tally.Count(s, d.table)
	hair := rule.HairOf(s, d.table)
	d.own = hair.Grams()
	d.shown = min(d.shown, max(0, len(d.report.Findings)-1))
	d.wentTo = nil
}

// line is the line that the cursor is on.
func (d *document) line() *slots.Line {
	l, err := d.table.Line(d.cursor.At)
	if err != nil {
		return d.table.Lines[0]
	}
	return l
}

// slot is the slot that the cursor is on.
func (d *document) slot() *slots.Slot { return d.line().At(d.cursor.Slot) }

// row is the row that the cursor is on, empty where there is none.
func (d *document) row() sheet.Row {
	r, _ := d.sheet().Row(d.cursor.At)
	return r
}

// keepOnMap moves the cursor to the nearest place that is still there after the
// head has changed.
func (d *document) keepOnMap() {
	if _, err := d.table.Line(d.cursor.At); err != nil {
		lines := d.table.Lines
		i := int(d.cursor.At.At / d.table.Gap)
		if d.cursor.At.Along {
			i = d.table.Round()
		}
		d.cursor.At = lines[min(max(i, 0), len(lines)-1)].Place()
	}
	l := d.line()
	d.cursor.Slot = min(max(d.cursor.Slot, l.First), l.Last())
}
