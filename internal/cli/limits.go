package cli

import (
	"cmp"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/studio"
)

// college is whose limits hold in place of the studio's own, and which.
type college struct {
	name   string
	limits map[sheet.LimitName]float64
}

// college is the one whose limits --limits names, read once; nil without that flag.
func (p *program) college() (*college, error) {
	if p.limitsFile == "" || p.holds != nil {
		return p.holds, nil
	}
	name, limits, err := sheetfile.LoadLimits(p.limitsFile)
	if err != nil {
		return nil, err
	}
	p.holds = &college{cmp.Or(name, "the college"), limits}
	return p.holds, nil
}

// holdTo puts the limits of the college, where there are any, in place of those of a studio.
func (p *program) holdTo(st *studio.Studio) error {
	c, err := p.college()
	if c != nil {
		st.Limits, st.LimitsOf = c.limits, c.name
	}
	return err
}

// judge is the judge of an exercise, by the limits of the college where there are any.
func (p *program) judge(x *lesson.Exercise) (*lesson.Judge, error) {
	j := &lesson.Judge{Exercise: x}
	c, err := p.college()
	if c != nil {
		j.Limits, j.LimitsOf = c.limits, c.name
	}
	return j, err
}
