package tui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/settings"
)

// keymap is the table of commands with the keys in force. Only the commands of the map have keys that can be set: those of a panel, a
// form or a page stand in it while it is in front, are few, and stay what they are.
type keymap struct {
	commands []command
	given    map[string]bool // the commands that were given keys, by their ids
	spoken   bool            // sentences name commands by their words, not by their keys
}

// stays are the keys that no setting takes away, by the command: the way out, and the way to see all others.
var stays = map[string]string{"leave": "ctrl+c", "keys": "?"}

// newKeymap is the table with the keys that commands were given, by their ids, in place of those that they come with.
func newKeymap(given map[string][]string) *keymap {
	k := &keymap{commands: slices.Clone(commands), given: map[string]bool{}}
	for i := range k.commands {
		c := &k.commands[i]
		names, ok := given[c.id]
		if !ok {
			continue
		}
		k.given[c.id] = true
		if stay := stays[c.id]; stay != "" && !slices.Contains(names, stay) {
			names = append(slices.Clip(names), stay)
		}
		c.bind = key.NewBinding(key.WithKeys(boundTo(names)...), key.WithHelp(c.bind.Help().Key, c.bind.Help().Desc))
	}
	return k
}

// boundTo are keys as the terminal library names them.
func boundTo(names []string) []string {
	bound := slices.Clone(names)
	for i, name := range bound {
		if name == "space" {
			bound[i] = " "
		}
	}
	return bound
}

// named are keys as settings name them.
func named(bound []string) []string {
	names := slices.Clone(bound)
	for i, key := range names {
		if key == " " {
			names[i] = "space"
		}
	}
	return names
}

// commandFor is the command that a key runs.
func (k *keymap) commandFor(msg tea.KeyMsg) (command, bool) {
	for _, c := range k.commands {
		if key.Matches(msg, c.bind) {
			return c, true
		}
	}
	return command{}, false
}

// lines are the commands line by line as the page of keys has them: a command whose keys are written beside those of the one before
// stands with it.
func (k *keymap) lines() (lines [][]command) {
	for i, c := range k.commands {
		if commands[i].bind.Help().Key == "" {
			lines[len(lines)-1] = append(lines[len(lines)-1], c)
			continue
		}
		lines = append(lines, []command{c})
	}
	return lines
}

// written is how the keys of a line are written: as they are in the table, or all of them where one was given.
func (k *keymap) written(line []command) string {
	if !slices.ContainsFunc(line, func(c command) bool { return k.given[c.id] }) {
		return line[0].bind.Help().Key
	}
	var keys []string
	for _, c := range line {
		for _, key := range named(c.bind.Keys()) {
			keys = append(keys, keyName(key))
		}
	}
	if len(keys) == 0 {
		return noKey
	}
	return strings.Join(keys, " ")
}

// noKey stands where a command has none.
const noKey = "no key"

// keyName is how a key is written on the screen.
func keyName(key string) string {
	prefix, last := "", key
	if i := strings.LastIndex(strings.TrimSuffix(key, "+"), "+"); i >= 0 {
		prefix, last = key[:i+1], key[i+1:]
	}
	switch last {
	case "left":
		last = "←"
	case "right":
		last = "→"
	case "up":
		last = "↑"
	case "down":
		last = "↓"
	case "pgup":
		last = "PgUp"
	case "pgdown":
		last = "PgDn"
	case "home", "end", "delete", "insert", "esc", "tab", "enter", "backspace":
		last = strings.ToUpper(last[:1]) + last[1:]
	default:
		if len(last) > 1 && last[0] == 'f' {
			last = strings.ToUpper(last)
		}
	}
	return prefix + last
}

// of is the first key of a command, as it is written, or the command's id where it has none. A nil keymap has the keys that
// commands come with.
func (k *keymap) of(id string) string {
	if k != nil && k.spoken {
		return wordOf(id)
	}
	list := commands
	if k != nil {
		list = k.commands
	}
	for _, c := range list {
		if c.id != id {
			continue
		}
		if keys := named(c.bind.Keys()); len(keys) > 0 {
			return keyName(keys[0])
		}
	}
	return id
}

// keyOf is the first key of a command, for a sentence that names it.
func (m *Model) keyOf(id string) string {
	if m.opts.Glyphs == figure.ASCII {
		return InWords(m.keymap.of(id))
	}
	return m.keymap.of(id)
}

// command is a command by its id.
func (m *Model) command(id string) command {
	i := slices.IndexFunc(m.keymap.commands, func(c command) bool { return c.id == id })
	return m.keymap.commands[i]
}

// help lists the commands for the page of keys.
func (k *keymap) help() []KeyHelp {
	var list []KeyHelp
	for _, g := range groups {
		for _, line := range k.lines() {
			if c := line[0]; c.group == g {
				list = append(list, KeyHelp{g, k.written(line), c.bind.Help().Desc})
			}
		}
	}
	return append(list,
		KeyHelp{groupPaint, "click, drag", "place or lift a bond; lay the pattern along a line"})
}

// Commands are the commands with the keys that they come with, in the order of the page of keys.
func Commands() []settings.Command {
	var list []settings.Command
	for _, g := range groups {
		for _, c := range commands {
			if c.group == g {
				list = append(list, settings.Command{ID: c.id, Group: g, Does: c.bind.Help().Desc, Keys: named(c.bind.Keys()), Stays: stays[c.id]})
			}
		}
	}
	return list
}

// Keys lists the commands with the keys that they come with, for the README.
func Keys() []KeyHelp { return KeysWith(nil) }

// KeysWith lists the commands with the keys in force, where some were given others, by their ids.
func KeysWith(given map[string][]string) []KeyHelp { return newKeymap(given).help() }
