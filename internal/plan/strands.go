package plan

import (
	"strings"

	"example.org/underveil/internal/sheet"
)

// chooseStrands decides which strands the plan uses. For length and volume these are the ones asked for, or a blend of what is
// in stock where the client's colour was read, or else the first shade of the sheet. For highlights it is the last shade of
// the sheet that is not used for those, since nobody can choose it but the client.
func (p *planner) chooseStrands(with Means) {
	p.main = string(p.base.Shades[0].Key)
	fills := p.base.Wishes(sheet.Length) || p.base.Wishes(sheet.Volume)
	switch {
	case with.Repeat != "":
		p.main = with.Repeat
	case with.Stock != nil && fills:
		blend := with.Stock.Match(p.base)
		if s, repeat := blend.Take(p.base); repeat != "" {
			p.base, p.main = s, repeat
		}
	}
	for _, h := range p.base.Shades {
		if !fills || p.highlights == "" || !strings.Contains(p.main, string(h.Key)) {
			p.highlights = string(h.Key)
		}
	}
}
