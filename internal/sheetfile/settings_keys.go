package sheetfile

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/settings"
)

// mostKeys is how many keys a command may have.
const mostKeys = 6

// given is a key that the file gives to a command.
type given struct {
	key     string // as settings.Key has it
	written string
	command *settings.Command
	at      span
}

// keys reads [keys]. A key is refused where no terminal sends it, where it has to stay with another command, and where another command
// has it, by this file or because it comes with it.
func (d *settingsDecoder) keys(t table) {
	values, ok := t.values["keys"].(map[string]any)
	if !ok {
		if t.has("keys") {
			t.sub("keys") // which says what is wrong
		}
		return
	}
	t = table{reader: t.reader, name: "keys", path: root.key("keys"), values: values}
	var all []given
	for _, id := range slices.Sorted(maps.Keys(values)) {
		c := d.command(id)
		if c == nil {
			d.unknown(t, id)
			continue
		}
		list, ok := t.keysOf(c)
		if !ok {
			continue
		}
		all = append(all, list...)
		keys := []string{}
		for _, g := range list {
			keys = append(keys, g.key)
		}
		d.set = d.set.WithKeys(id, keys)
		d.note("keys."+id, t.at(id))
	}
	slices.SortStableFunc(all, func(a, b given) int { return cmp.Compare(a.at.from, b.at.from) })
	d.clashes(all, values)
}

func (d *settingsDecoder) command(id string) *settings.Command {
	for i := range d.commands {
		if d.commands[i].ID == id {
			return &d.commands[i]
		}
	}
	return nil
}

// unknown reports a command that there is none of.
func (d *settingsDecoder) unknown(t table, id string) {
	remedy := "underveil settings write --to - lists the commands with their keys"
	if slices.Contains(t.keysIn[""], id) {
		remedy = id + " belongs at " + t.heading("") + ", above [keys]"
	} else if near := nearest(id, t.keysIn["keys"]); near != "" {
		remedy = "did you mean " + near + "?"
	}
	d.fail(t.at(id).key, "there is no command "+printable.Quote(id)+aside(id), remedy)
}

// keysOf reads the keys of a command, one or a list of them; ok is false where something is wrong with them.
func (t table) keysOf(c *settings.Command) (list []given, ok bool) {
	errs := len(t.errs)
	add := func(v any, at span) {
		written, text := v.(string)
		if !text {
			t.reader.fail(at, c.ID+": there is "+kindOf(v)+", and should be a key", "write it like "+t.sample("keys", c.ID))
			return
		}
		key, problem, remedy := settings.Key(written)
		if problem != "" {
			t.reader.fail(at, printable.Quote(written)+" "+problem, remedy)
			return
		}
		if slices.ContainsFunc(list, func(g given) bool { return g.key == key }) {
			t.reader.fail(at, c.ID+": "+printable.Quote(written)+" is listed twice", "take one of the two out")
			return
		}
		list = append(list, given{key, written, c, at})
	}
	switch v := t.values[c.ID].(type) {
	case []any:
		if len(v) > mostKeys {
			t.fail(c.ID, fmt.Sprintf("%s has %d keys, and %d at most can be given", c.ID, len(v), mostKeys), "keep those that are used")
			return nil, false
		}
		for i, key := range v {
			add(key, t.places.find(t.path.key(c.ID).item(i)).value)
		}
	default:
		add(v, t.at(c.ID).value)
	}
	return list, len(t.errs) == errs
}

// clashes reports keys that more than one command would have. A command that the file gives keys to has no others but the one that
// stays with it.
func (d *settingsDecoder) clashes(all []given, values map[string]any) {
	stays, comesWith := map[string]*settings.Command{}, map[string]*settings.Command{}
	for i := range d.commands {
		c := &d.commands[i]
		if c.Stays != "" {
			stays[c.Stays] = c
		}
		if values[c.ID] == nil {
			for _, key := range c.Keys {
				comesWith[key] = c
			}
		}
	}
	first := map[string]given{}
	for _, g := range all {
		name := printable.Quote(g.written)
		if c := stays[g.key]; c != nil && c.ID != g.command.ID {
			d.fail(g.at, fmt.Sprintf("%s always stays with %s", name, c.ID), "give "+g.command.ID+" another key")
			continue
		}
		if c := comesWith[g.key]; c != nil {
			d.fail(g.at, fmt.Sprintf("%s is the key of %s%s", name, c.ID, whatItDoes(c)),
				fmt.Sprintf("give %s another key in this table too, or none with %s = []; or take another for %s", c.ID, c.ID, g.command.ID))
			continue
		}
		if other, taken := first[g.key]; taken {
			line, _ := d.lineAt(other.at.from)
			d.fail(g.at, fmt.Sprintf("%s is given to %s already, on line %d", name, other.command.ID, line), "take it away from one of the two")
			continue
		}
		first[g.key] = g
	}
}

func whatItDoes(c *settings.Command) string {
	if c.Does == "" {
		return ""
	}
	return ", " + c.Does
}
