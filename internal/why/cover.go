package why

import (
	"fmt"
	"math"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/visit"
)

// cover is the hair over a slot, worn one way.
func (a *account) cover(w slots.Way, line *slots.Line, slot int) {
	sec := a.section("own hair over it, " + w.In(a.sheet))
	sec.Reading = rule.Reading{Kind: rule.ByCover, Way: w}
	p, style, own := line.At(slot).Point, a.table.Worn(w), a.table.Own()
	now := style.Working(p, own, 0)
	c := a.table.Cover(w, line, slot)
	if now.Tied {
		a.drawnOver(sec, &now, c)
	} else {
		sec.say("the fall line comes %.1f mm from %s", float64(now.Line), source(w))
		if own.Length > 0 {
			sec.say("own hair of %g mm has to reach %g mm past the bond", float64(own.Length), float64(own.Past))
		} else {
			sec.say("nobody said how long the own hair is: taken to be long enough")
		}
	}
	along(sec, &now)
	for i := range fall.Weeks {
		then := &now
		if i > 0 {
			k := style.Working(p, own, i)
			then = &k
		}
		sec.say("%s it hangs %.1f mm from its root%s%s: %.2f mm of scalp", fall.When(i), float64(own.Hang[i]), apart(then, &now), stretch(then), float64(then.Depth))
		sec.say("  %s mm × %s hairs/mm² = %s hairs/mm", sum{product, 1, []figure{{float64(then.Depth), 2}, {a.hair.Density.PerMM2(), 2}}}.printed()...)
	}
	least, from := a.sheet.Limit(rule.CoverLimit(w.Wear))
	sec.say("at least %g hairs/mm (%s)", least, from)
	if !c.Tied {
		most, from := a.sheet.Limit(sheet.LimitAside)
		sec.say("the hair falls %.0f° from straight down, at most %g (%s)", c.Aside, most, from)
		if asked, not := rule.AsksAside(line, c); !asked {
			sec.say("  which is not asked here: %s", not)
		}
	}
}

// drawnOver is the hair that is drawn over a bond to a tie.
func (a *account) drawnOver(sec *Section, k *fall.Working, c *fall.Cover) {
	own := a.table.Own()
	sec.say("the tie is %.1f mm away; the hair rooted farther out on the same line is drawn over the bond", float64(k.Line))
	switch {
	case own.Length == 0:
		sec.say("nobody said how long the own hair is: taken to be long enough")
	case own.Length <= own.Past:
		sec.say("own hair of %g mm is too short to be tied: it has to reach %g mm past the tie", float64(own.Length), float64(own.Past))
	default:
		sec.say("own hair of %g mm has to reach %g mm past the tie: none rooted over %g mm from it is held", float64(own.Length), float64(own.Past),
			float64(own.Length-own.Past))
	}
	sec.say("hair grows on %.1f mm of the line beyond the bond", float64(c.Rooted))
}

// apart is how far lines lie apart where a bond hangs by then, against where it hung at the fitting; nothing at the fitting.
func apart(then, now *fall.Working) string {
	if then == now || now.Spread <= 0 {
		return ""
	}
	return fmt.Sprintf(", where lines lie %.2f times as far apart", then.Spread/now.Spread)
}

// stretch is from where to where roots count.
func stretch(k *fall.Working) string {
	if k.To <= k.From {
		return "; no root counts"
	}
	return fmt.Sprintf("; roots count from %.1f to %.1f mm", float64(k.From), float64(k.To))
}

// mostShown is how many of the steps along a line are shown.
const mostShown = 12

// along is the hair along a line at the fitting, step by step.
func along(sec *Section, k *fall.Working) {
	samples := grown(k.Samples)
	if len(samples) < 2 {
		return
	}
	every := 1 + len(samples)/mostShown
	shown := "each step"
	if every > 1 {
		shown = fmt.Sprintf("one step in %d", every)
	}
	sec.say("along the line at the fitting, %s shown:", shown)
	for i, s := range samples {
		if i%every == 0 || i == len(samples)-1 {
			sec.say("  at %5.1f mm: density share %.2f, and %.2f of that hair passes over a mm here", float64(s.At), s.Share, s.Ratio)
		}
	}
	sec.say("the sum of share × passing × mm over all %d steps is %.2f mm of scalp", len(samples)-1, float64(k.Depth))
}

// grown is the samples without those at both ends where no hair grows.
func grown(all []fall.Sample) []fall.Sample {
	bare := func(i int) bool { return all[i].Share == 0 && all[i+1].Share == 0 }
	for len(all) > 1 && bare(0) {
		all = all[1:]
	}
	for len(all) > 1 && bare(len(all)-2) {
		all = all[:len(all)-1]
	}
	return all
}

// source is what hair falls from, in words.
func source(w slots.Way) string {
	if w.Wear == sheet.WornHalfUp {
		return "the section line"
	}
	return "the parting or the whorl"
}

// growth is where the bond will hang, and worn in some ways, how far down its fall line the hairline is.
func (a *account) growth(line *slots.Line, slot int, ways ...slots.Way) {
	sec := a.section("growing out")
	off, from := a.sheet.Limit(sheet.FigureStandOff)
	daily, source := a.sheet.Limit(sheet.FigureGrowth)
	sec.say("fitted %g mm off the scalp (%s); %g mm of growth a day (%s)", off, from, daily, source)
	for _, weeks := range fall.Weeks[1:] {
		sec.say("in %d weeks: %g + %d × %g = %.1f mm off; of the own hairs in the bond %.1f %% are shed by then", weeks, off, 7*weeks, daily,
			float64(a.sheet.Hang(weeks)), 100*visit.Shed(a.sheet, 7*weeks))
	}
	for _, w := range ways {
		if edge := float64(a.table.Cover(w, line, slot).Edge); !math.IsInf(edge, 1) {
			sec.say("%s, the hairline is %.1f mm down its fall line", w.In(a.sheet), edge)
		}
	}
}
