package sheetfile

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/settings"
)

// NewSettings is a settings file to begin with: every setting and the keys of every command as they are without one, each after a #
// without a blank, which is to be taken away where something is to be otherwise. Remarks have a blank after it.
func NewSettings(commands []settings.Command) []byte {
	var b strings.Builder
	set := settings.Default()
	line := func(setting, remark string) {
		if remark != "" {
			setting = fmt.Sprintf("%-32s # %s", setting, remark)
		}
		b.WriteString(setting + "\n")
	}
	b.WriteString(`# Settings of Underveil. Take the # away before what is to be otherwise; underveil settings tells what holds.
format = 1

`)
	b.WriteString("# The background is the terminal's own: dark and light say which it has.\n")
	line("#colours = "+quote(string(set.Colours)), listed(settings.AllColours))
	line("#marks = "+quote(string(set.Marks)), listed(settings.AllMarks)+": the characters that maps and frames are drawn with")
	line(fmt.Sprintf("#mouse = %t", !set.NoMouse), "false leaves it to the terminal, to select text")
	var units []string
	for _, u := range settings.Units {
		units = append(units, u.Name)
	}
	line("#units = "+quote(settings.UnitName(set.Units)), listed(units)+": what lengths are shown in; sheets keep mm")
	line("#paper = "+quote(set.Paper), listed(settings.Papers)+": what a card is printed on")
	b.WriteString(`
# The keys of the map. A key is the character that it types, in any script, or one of
#   ` + strings.Join(settings.NamedKeys()[:12], " ") + `
#   up down left right, these and home and end with shift+ or ctrl+; f1 to f12; ctrl+a to ctrl+z; alt+a
# and several stand in a list: ["u", "ctrl+z"]; [] is none. A key has one command. ctrl+c always leaves, and ? always shows the
# keys. What the keys of a panel or a form do stands in it, and stays.
[keys]
`)
	group := ""
	for _, c := range commands {
		if c.Group != group {
			group = c.Group
			b.WriteString("\n# " + group + "\n")
		}
		line("#"+c.ID+" = "+keyList(c.Keys), c.Does)
	}
	return []byte(b.String())
}

// keyList is how the keys of a command are written.
func keyList(keys []string) string {
	if len(keys) == 1 {
		return quote(keys[0])
	}
	return "[" + strings.Join(quoteAll(keys), ", ") + "]"
}

func listed[T ~string](words []T) string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = string(w)
	}
	return strings.Join(texts, ", ")
}
