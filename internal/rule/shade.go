package rule

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
)

var shadeRule = &Rule{
	ID: "shade", Since: "0.3", Severity: Caution,
	Title: "shades that do not match the client's hair",
	Doc: "The shades fitted are mixed, in linear light and by how many strands there are of each, and compared with the client's reading by " +
		"CIEDE2000: at the ends where length is wished for, else halfway. Strands for highlights are meant to differ and are left out. " +
		"Where none is close, the strands are toned, tested and coloured before the fitting, and the sheet notes how. Strands of another " +
		"texture than the hair show as soon as it dries by itself. No published threshold for hair was found.",
	Limits: []sheet.LimitName{sheet.LimitShade},
	Check: func(p *Pass) {
		p.matches()
		p.textures()
	},
}

// matches compares the shades fitted, mixed, with the client's reading.
func (p *Pass) matches() {
	reading, where := p.Sheet.Reading()
	if reading == "" {
		return
	}
	strands := p.strandsOf()
	var mixed []shade.Part
	var names, unread []string
	for _, h := range p.Sheet.Shades {
		n := strands[h.Key]
		switch {
		case n == 0:
			continue
		case h.Toned != "":
			return // what it will look like nobody has measured
		case h.Colour == "":
			unread = append(unread, h.Name)
			continue
		}
		mixed = append(mixed, shade.Part{Colour: h.Colour.Lab(), Share: n})
		names = append(names, h.Name)
	}
	if unread != nil {
		p.found = append(p.found, Finding{Concern: p.about("reading"), Severity: Note, Source: sheet.Practice,
			What: "there is no reading of " + strings.Join(unread, " and ") + " to compare with the client's " + where})
		return
	}
	if mixed == nil {
		return
	}
	most, source := p.Sheet.Limit(sheet.LimitShade)
	if off := shade.Difference(reading.Lab(), shade.Mix(mixed)); over(off, most) {
		p.found = append(p.found, Finding{Concern: sheet.Concern{Rule: p.rule.ID}, Severity: Caution, Value: off, Limit: most, Unit: "ΔE00", AtMost: true,
			Source: source, What: fmt.Sprintf("between %s and the client's reading %s, and no toning noted", strings.Join(names, " with "), where)})
	}
}

// strandsOf counts the strands of each shade that are to match, by letter: two halves are one.
func (p *Pass) strandsOf() (strands ['z' + 1]float64) {
	for i := range p.Rows {
		row := &p.Rows[i]
		if p.Sheet.LookOf(row.Row) == sheet.Highlights {
			continue
		}
		for k := range row.Bonds {
			b := &row.Bonds[k]
			strands[b.Shade] += b.Strands()
		}
	}
	return strands
}

// textures cautions of strands in use of another texture than the client's hair.
func (p *Pass) textures() {
	own := p.Sheet.Hair.Texture
	if own == "" {
		return
	}
	var used ['z' + 1]bool
	for i := range p.Bonds {
		used[p.Bonds[i].Shade] = true
	}
	for _, h := range p.Sheet.Shades {
		if used[h.Key] && h.Texture != "" && h.Texture != own {
			p.found = append(p.found, Finding{Concern: p.about(string(h.Key)), Severity: Caution, Source: sheet.Practice,
				What: fmt.Sprintf("%s is %s, and the client's hair is %s", h.Name, h.Texture, own)})
		}
	}
}
