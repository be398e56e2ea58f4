package tui

import (
	"path/filepath"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// cardMsg brings what came of writing a card.
type cardMsg struct {
	told []string
	err  error
}

// papers are what a card can be printed on.
var papers = []string{"A4", "Letter"}

// paper is what a card is printed on unless somebody says otherwise.
func (m *Model) paper() string {
	if i := slices.IndexFunc(papers, func(p string) bool { return strings.EqualFold(p, m.opts.Paper) }); i >= 0 {
		return papers[i]
	}
	return papers[0]
}

// askForCard asks where the card is to be written.
func (m *Model) askForCard() {
	name := strings.TrimSuffix(m.doc.path, filepath.Ext(m.doc.path))
	if name == "" {
		name = strings.TrimSuffix(fileName(m.doc.sheet().Title), ".toml")
	}
	m.push(&form{title: "the card", note: "A page to work from and one for the client. FILE.pdf, FILE.svg or FILE.txt; a card that is there already is replaced.",
		fields: []*field{
			textField("file", name+".pdf", "a name here, or a whole path"),
			choiceField("paper", papers, m.paper(), "what it is printed on"),
		},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			to := fm.find("file").text()
			if filepath.Ext(to) == "" {
				to += ".pdf"
			}
			s, of, write, paper := m.doc.sheet(), m.doc.path, m.opts.Files.Card, fm.find("paper").choice()
			m.tell("writing the card")
			return func() tea.Msg {
				told, err := write(s, of, atHome(to), strings.ToLower(paper))
				return cardMsg{told, err}
			}, nil
		}})
}

// cardWritten tells what was written; where there is more to know than has room in a line, as a page.
func (m *Model) cardWritten(msg cardMsg) {
	switch {
	case msg.err != nil:
		m.told = ""
		m.push(newTrouble("the card is not written", msg.err.Error()))
	case len(msg.told) == 1:
		m.tell("the card is written: " + msg.told[0])
	default:
		m.told = ""
		m.push(newTrouble("the card is written", strings.Join(msg.told, "\n")))
	}
}
