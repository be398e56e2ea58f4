package tui

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// newPatchForm marks a patch to keep off round the cursor, or changes the one that the cursor is on.
func newPatchForm(m *Model) *form {
	d := m.doc
	at, patch := d.patchHere()
	title := "a patch to keep off, round " + d.cursor.At.String() + ", " + rule.SlotName(d.cursor.At, d.cursor.Slot)
	if at >= 0 {
		title = fmt.Sprintf("the patch at height %g, %g mm right", float64(patch.Height), float64(patch.Right))
	}
	return &form{title: title, note: "What is wrong with the scalp is for a doctor or a licensed practitioner to judge.",
		fields: []*field{
			numberField("radius", float64(patch.Radius), "mm from its middle; 0 takes the patch out"),
			textField("why", patch.Why, "a scar, a sore or thin place, a cowlick"),
		},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			radius, err := fm.find("radius").number(0, 80)
			if err != nil {
				return nil, err
			}
			patch.Radius, patch.Why = scalp.MM(radius), fm.find("why").text()
			next := slices.Clone(d.sheet().KeepOff)
			switch {
			case at < 0:
				next = append(next, patch)
			default:
				next[at] = patch
			}
			next = slices.DeleteFunc(next, func(k sheet.KeepOff) bool { return k.Radius == 0 })
			if slices.Equal(next, d.sheet().KeepOff) {
				return nil, nil
			}
			label := "mark a patch to keep off"
			switch {
			case radius == 0:
				label = "take a patch out"
			case at >= 0:
				label = "change a patch to keep off"
			}
			return nil, d.do(label, d.sheet().With(func(c *sheet.Sheet) { c.KeepOff = next }))
		}}
}

// patchHere is the patch that the cursor lies in, and its index; or a new one round the cursor and -1.
func (d *document) patchHere() (int, sheet.KeepOff) {
	on := d.slot()
	for i, away := range on.KeepOff {
		if away <= d.sheet().KeepOff[i].Radius {
			return i, d.sheet().KeepOff[i]
		}
	}
	spot := d.spot() // a row front to back lies on other lines of the map
	line := d.table.Lines[spot.Line]
	return -1, sheet.KeepOff{Height: line.ID.At, Right: scalp.MM(spot.Slot) * d.table.Spacing, Radius: 15}
}
