package tui

import (
	"fmt"
	"strings"
	"time"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
)

// orderVoice reads the order and the estimate, what is to be paid first.
func (p *plain) orderVoice() voice {
	m := p.m
	o := tally.OrderOf(m.doc.sheet(), m.doc.totals, m.opts.Studio)
	money := func(n string) string { return strings.TrimSpace(n + " " + o.Currency.Code) }
	v := voice{page: true, replies: []reply{goBack}}
	if len(o.Lines) == 0 {
		v.asks = []string{"nothing to order: no bond is placed yet"}
		return v
	}
	total := "estimate: "
	if len(o.Unpriced) > 0 {
		total = "estimate of what has a price: "
	}
	v.asks = append(v.asks, fmt.Sprintf("%s%s, %s of it for hair, %s for %s at the chair; the packs to buy come to %s", total, money(o.Currency.Number(o.Total)),
		o.Currency.Number(o.Hair), o.Currency.Number(o.Chair), timeSaid(o.Duration), o.Currency.Number(o.Buying)))
	for _, l := range o.Lines {
		text := fmt.Sprintf("%s %g mm: %d planned, %d spare", l.Name, float64(l.Length), l.Planned, l.Spare)
		switch {
		case l.Reused:
			text += ", re-used"
		case l.Packs == 0:
			text += ", all from the drawer"
		default:
			text += fmt.Sprintf(", %d from the drawer, %s of %d to buy, %d left over", l.Taken, printable.Count(l.Packs, "pack"), l.Pack, l.LeftOver)
		}
		if l.Priced {
			text += fmt.Sprintf("; a pack %s, the client pays %s", o.Currency.Number(l.Price), o.Currency.Number(l.Sum))
		}
		v.asks = append(v.asks, text)
	}
	if o.In > 0 {
		v.asks = append(v.asks, bondsOf(o.In)+" of these are in the head already")
	}
	if o.Tips > 0 {
		v.asks = append(v.asks, printable.Count(o.Tips, "new tip"))
	}
	for _, u := range o.Unpriced {
		v.asks = append(v.asks, "not in the total: "+u)
	}
	for _, w := range o.Work {
		v.asks = append(v.asks, fmt.Sprintf("%s: %d times %s, %s", w.Name, w.Count, timeSaid(w.Each), timeSaid(w.All)))
	}
	v.asks = append(v.asks, "An estimate, which stands only after hair and scalp have been looked at.", "prices and times: "+m.opts.From,
		"say back, or any command of the sheet: card writes it for the client")
	return v
}

// timeSaid is a time as it is said: "1 h 31 min 30 s".
func timeSaid(d time.Duration) string {
	d = d.Round(time.Second)
	var parts []string
	for _, u := range []struct {
		size time.Duration
		name string
	}{{time.Hour, "h"}, {time.Minute, "min"}, {time.Second, "s"}} {
		if n := d / u.size; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, u.name))
			d %= u.size
		}
	}
	if len(parts) == 0 {
		return "no time"
	}
	return strings.Join(parts, " ")
}

// linesVoice reads a page of text, what was broken into lines put together again.
func linesVoice(page *linesPage) voice {
	v := voice{page: true, asks: []string{page.title}}
	before := -1 // as wide as the line before was
	for _, l := range page.lines {
		text := strings.TrimSpace(l.text)
		first, _, _ := strings.Cut(text, " ")
		goesOn := before >= 0 && before+1+printable.Width(first) > page.width
		if before = printable.Width(l.text); text == "" {
			before = -1
			continue
		}
		if caution, ok := strings.CutPrefix(text, "! "); ok {
			text = "caution: " + caution
		} else if goesOn {
			v.asks[len(v.asks)-1] += " " + text
			continue
		}
		v.asks = append(v.asks, text)
	}
	return v
}

// ruleVoice reads the page of a rule without its pictures.
func (p *plain) ruleVoice(page *rulePage) voice {
	r, ok := rule.ByID(strings.TrimPrefix(page.title, "the rule "))
	if !ok {
		return p.drawnVoice(page)
	}
	v := voice{page: true, asks: []string{fmt.Sprintf("%s, at most a %s: %s", page.title, r.Severity, r.Title), r.Doc}}
	for _, name := range r.Limits {
		info, _ := name.Info()
		is, source := p.m.doc.sheet().Limit(name)
		if source == sheet.Practice {
			source = "common practice, no source"
		}
		v.asks = append(v.asks, fmt.Sprintf("%s: %g %s %s; %s", name.Words(), is, info.Unit, info.Title, source))
	}
	return v
}
