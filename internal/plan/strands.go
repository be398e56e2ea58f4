package plan

import (
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
)

// chooseStrands decides which strands the plan uses. For length and volume these are the ones asked for, or a blend of what is
// in stock where the client's colour was read, or else the first shade of the sheet; for highlights the last one, which
// nobody can choose but the client, or the ones asked for where nothing else is wished for.
func (p *planner) chooseStrands(with Means) {
	shades := p.base.Shades
	p.main, p.highlights = string(shades[0].Key), string(shades[len(shades)-1].Key)
	switch {
	case with.Repeat != "":
		p.main = with.Repeat
		if len(p.base.Wish) == 1 && p.base.Wishes(sheet.Highlights) {
			p.highlights = with.Repeat // there is nothing else that it could be for
		}
	case with.Stock != nil:
		blend := with.Stock.Match(p.base, p.base.StrandLength(), shade.MostKinds)
		if s, repeat := blend.Take(p.base); repeat != "" {
			p.base, p.main = s, repeat
		}
	}
}
