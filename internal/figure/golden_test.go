package figure

import "testing"

func TestGoldenDrawings(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*View)
	}{
		{"unicode-one-cell", func(*View) {}},
		{"unicode-two-cells", func(v *View) { v.Wide = true }},
		{"ascii-one-cell", func(v *View) { v.Glyphs = ASCII }},
		{"ascii-two-cells", func(v *View) { v.Glyphs, v.Wide = ASCII, true }},
		{"letters", func(v *View) { v.Letters = true }},
		{"cursor", func(v *View) { v.Focus = &Spot{At: level(80), Slot: 3} }},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := viewOf(t, sample(t), reportOf())
			c.change(&v)
			compare(t, c.name, drawn(v).String())
		})
	}
}
