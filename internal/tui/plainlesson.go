package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/lesson"
)

// exerciseVoice reads the exercise: the brief, what counts, the hints unfolded so far.
func (p *plain) exerciseVoice(page *exercisePage) voice {
	x := p.m.doc.practice
	v := voice{page: true, replies: lessonReplies(x)}
	if by := x.signed.Assessor; by != "" {
		v.asks = append(v.asks, "signed by "+by+" on "+x.signed.On)
	}
	hints := fmt.Sprintf("hints, %d of %d", x.hints, len(x.x.Hints))
	if p.m.doc == p.was.doc && p.hinted < x.hints && p.briefed == x { // the rest was read before
		p.hinted = x.hints
		v.asks = append(v.asks, fmt.Sprintf("hint %d of %d: %s", x.hints, len(x.x.Hints), x.hint(p.m, x.hints-1)))
		return v
	}
	p.hinted, p.briefed = x.hints, x
	v.asks = append(v.asks, x.x.Title)
	v.asks = append(v.asks, strings.Split(x.x.Brief, "\n")...)
	if x.x.Who != "" {
		v.asks = append(v.asks, "the client: "+x.x.Who)
	}
	v.asks = append(v.asks, "what counts: "+strings.Join(x.x.Counts(), "; "))
	v.asks = append(v.asks, "what may be touched: "+x.x.MayWords(), hints)
	for i := range x.hints {
		v.asks = append(v.asks, x.hint(p.m, i))
	}
	if x.answered || passed(x) {
		v.asks = append(v.asks, "to take along: "+x.x.Ending)
	}
	if n := len(x.marks); n > 0 {
		v.asks = append(v.asks, "marked last: "+x.marks[n-1].On+", "+x.marks[n-1].String())
	}
	v.asks = append(v.asks, "say "+repliesLine(v.replies))
	return v
}

// hint is one of the hints in words.
func (p *practice) hint(m *Model, i int) string {
	text, err := p.judge.HintText(i, m.doc.sheet())
	if err != nil { // exercise check finds it first
		return p.x.Hints[i].Text
	}
	return text
}

// lessonReplies are what can be asked for in an exercise.
func lessonReplies(p *practice) []reply {
	list := []reply{{"mark", "m", ""}, {"hint", "h", ""}, {"try again", "t", ""}}
	if p.x.Task == lesson.Fit {
		list = append(list, reply{"plan", "w", ""}, reply{"sign", "g", ""})
	} else {
		list = append(list, reply{"answer", "w", ""})
	}
	return append(list, reply{"hand in", "s", ""}, reply{"others", "o", ""}, goBack)
}

// lessonWord obeys what can be asked for on the page of an exercise without that page, and reports whether it was such a word.
func (p *plain) lessonWord(line string) bool {
	x := p.m.doc.practice
	if x == nil {
		return false
	}
	for _, r := range lessonReplies(x) {
		if r != goBack && strings.EqualFold(line, r.word) {
			p.do(func(m *Model) tea.Cmd {
				m.told = ""
				m.showExercise()
				return nil
			})
			p.press(r.key)
			return true
		}
	}
	return false
}

// markVoice says the mark, then what is not met and why, then what is.
func (p *plain) markVoice(page *markPage) voice {
	x := p.m.doc.practice
	v := voice{page: true, asks: []string{page.mark.Summary()}, replies: lessonReplies(x)}
	var met []string
	for _, point := range x.told(page.mark.Points) {
		why := point.Why
		if why == "clear" || why == "found" {
			why = ""
		}
		if point.Met && !point.Off {
			met = append(met, point.What)
			continue
		}
		text := "not met: "
		if point.Off {
			text = "a point off: "
		}
		v.asks = append(v.asks, strings.TrimSuffix(text+point.What+"; "+why, "; "))
	}
	if len(met) > 0 {
		v.asks = append(v.asks, "met: "+strings.Join(met, "; "))
	}
	if x.x.Task == lesson.Fit {
		s := p.m.doc.sheet()
		v.asks = append(v.asks, "compared with the plan:")
		for _, l := range lesson.Compare(x.x.Answer, s, s.Tried.Off, p.m.doc.table).Text(x.x.Tolerance, 8) {
			v.asks = append(v.asks, strings.NewReplacer("  mean  ", ", mean ", "  mean ", ", mean ", "  largest  ", ", largest ", "  ", ", ").Replace(strings.TrimSpace(l)))
		}
	}
	if page.mark.Next != "" {
		v.asks = append(v.asks, "to try next: "+page.mark.Next)
	}
	if page.mark.Passed && x.x.Ending != "" {
		v.asks = append(v.asks, "to take along: "+x.x.Ending)
	}
	return v
}

// demonstrationVoice goes through a demonstration: what to look at, and what came and went.
func (p *plain) demonstrationVoice(d *demonstration) voice {
	v := voice{empty: " ", out: "q", replies: []reply{{"on", " ", "or an empty line"}, {"before", "left", "a step back"}, {"first", "home", ""}, {"last", "end", ""},
		{"news", "n", "goes through what came and went"}, {"try", "e", "leaves the step to try something"}, {"end", "q", ""}}}
	if p.m.doc == p.was.doc && p.was.front == dialog(d) { // the same step
		v.changed = []string{}
		if n, ok := d.inView(); ok && p.told == "" {
			v.changed = append(v.changed, findingLine(n.Finding))
		}
		return v
	}
	var lines []string
	if d.at == 0 {
		lines = append(lines, d.script.Title)
	}
	lines = append(lines, d.stepName())
	lines = append(lines, strings.Split(d.say(), "\n")...)
	if d.at == 0 {
		lines = append(lines, strings.Split(d.script.About, "\n")...)
	} else if len(d.news) == 0 {
		lines = append(lines, "no finding comes or goes")
	}
	for _, n := range d.news {
		turn := map[lesson.Turn]string{lesson.Came: "new: ", lesson.Went: "gone: ", lesson.Weighs: "now: "}[n.Turn]
		lines = append(lines, turn+gravity(n.Finding)+" "+n.Rule+" at "+spokenPlace(n.Where())+": "+n.Message())
	}
	v.asks, v.changed = lines, lines
	return v
}
