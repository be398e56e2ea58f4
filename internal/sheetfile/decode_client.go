package sheetfile

import (
	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/sheet"
)

// hair reads what is known of the client's own hair.
func (d *decoder) hair(t table) {
	hair, ok := t.sub("hair")
	if !ok {
		return
	}
	h := &d.sheet.Hair
	number(hair, "length", bounds{0, 2000, " mm"}, &h.Length)
	word(hair, "density", sheet.Densities, &h.Density)
	number(hair, "ponytail", bounds{float64(sheet.MinPonytail), float64(sheet.MaxPonytail), " mm"}, &h.Ponytail)
	number(hair, "count", bounds{float64(fibre.LeastDensity), float64(fibre.MostDensity), " hairs/cm²"}, &h.Count)
	word(hair, "texture", sheet.Textures, &h.Texture)
	hair.colour("root", &h.Root)
	hair.colour("mid", &h.Mid)
	hair.colour("ends", &h.Ends)
}

// consultation reads what was asked before anything is planned.
func (d *decoder) consultation(t table) {
	asked, ok := t.sub("consultation")
	if !ok {
		return
	}
	c := &d.sheet.Asked
	for _, q := range sheet.Questions {
		answer := sheet.NotAsked
		if word(asked, string(q.ID), sheet.Answers, &answer); answer != sheet.NotAsked {
			*c = c.With(q.ID, answer)
		}
	}
	asked.date("patch_test", &c.PatchTest)
	asked.date("agreed", &c.Agreed)
}

// amounts reads how much of each look is wished for.
func (d *decoder) amounts(t table) {
	amounts, ok := t.sub("amounts")
	if !ok {
		return
	}
	a := &d.sheet.Amounts
	number(amounts, "length", bounds{float64(sheet.MinLength), float64(sheet.MaxLength), " mm"}, &a.Length)
	number(amounts, "volume", bounds{1, sheet.MaxVolume, " %"}, &a.Volume)
	amounts.whole("highlights", bounds{1, float64(sheet.MaxHighlights), " strands"}, &a.Highlights)
}
