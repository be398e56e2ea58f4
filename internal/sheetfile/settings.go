package sheetfile

import (
	"slices"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/settings"
)

// A settings file is TOML in UTF-8, written and edited by hand. All of it but format may be left out.
//
//	format = 1
//	colours = "high contrast dark"  # found, dark, light, high contrast dark, high contrast light, none
//	marks = "ascii"                 # found, unicode, ascii
//	mouse = false
//	units = "in"                    # mm, cm, in: what lengths are shown in; files keep mm
//	paper = "letter"                # a4, letter: of a card
//
//	[keys]                          # of the commands of the editor, by their ids
//	place = "space"
//	undo = ["u", "ctrl+z"]
//	every-slot = []                 # no key
func settingsSchema(commands []settings.Command) *schema {
	s := settingsFile
	ids := make([]string, len(commands))
	for i, c := range commands {
		ids[i] = c.ID
	}
	s.keysIn = map[string][]string{"": s.keysIn[""], "keys": ids}
	return &s
}

var settingsFile = schema{
	called: "settings file", short: "settings file", on: "in a settings file", of: "user",
	naming: "take it away, or begin one with underveil settings write", see: "what underveil settings write writes",
	like: likes{number: `paper = "letter"`, text: `units = "in"`, spaced: `"undo"`, headers: "[keys]"},

	keysIn: map[string][]string{"": {"format", "colours", "marks", "mouse", "units", "paper", "keys"}},
	example: map[string]string{
		"format": "1", "colours": `"dark"`, "marks": `"ascii"`, "mouse": "false", "units": `"in"`, "paper": `"letter"`,
	},
	exampleIn: map[string]map[string]string{"keys": {"": `"ctrl+z", or ["u", "ctrl+z"]`}},
	otherwise: map[string]map[string]string{"": {
		"colors": "colours", "colour": "colours", "color": "colours", "theme": "colours", "background": "colours",
		"ascii": "marks", "unicode": "marks", "signs": "marks", "unit": "units", "lengths": "units", "length": "units",
		"page": "paper", "key": "keys", "commands": "keys",
	}},
}

// LoadSettings reads the settings in a file. Its error is as that of Load.
func LoadSettings(path string, commands []settings.Command) (settings.Settings, error) {
	kind := settingsSchema(commands)
	data, bad := read(kind, path)
	if bad != nil {
		return settings.Default(), Errors{bad}
	}
	return DecodeSettings(path, data, commands)
}

// DecodeSettings reads settings. name is the name of the file, for messages; commands are those of the editor, whose keys can be
// set. With an error, an Errors with all that is wrong, each with its place, come the settings of somebody who made none.
func DecodeSettings(name string, data []byte, commands []settings.Command) (settings.Settings, error) {
	t, _, bad := open(settingsSchema(commands), name, data)
	if bad != nil {
		return settings.Default(), Errors{bad}
	}
	d := &settingsDecoder{reader: t.reader, commands: commands, set: settings.Default()}
	d.all(t)
	if err := d.finish(); err != nil {
		return settings.Default(), err
	}
	return d.set, nil
}

// settingsDecoder makes settings of what the reader reads.
type settingsDecoder struct {
	*reader
	commands []settings.Command
	set      settings.Settings
}

func (d *settingsDecoder) all(t table) {
	if t.isOther("keys", t.naming) || !t.isFormatNow() {
		return
	}
	t.checkKeys()
	setting(t, "colours", settings.AllColours, &d.set.Colours)
	setting(t, "marks", settings.AllMarks, &d.set.Marks)
	mouse := true
	t.flag("mouse", &mouse)
	d.set.NoMouse = !mouse
	var names []string
	for _, u := range settings.Units {
		names = append(names, u.Name)
	}
	name := settings.UnitName(d.set.Units)
	setting(t, "units", names, &name)
	d.set.Units = settings.Units[slices.Index(names, name)].Unit
	setting(t, "paper", settings.Papers, &d.set.Paper)
	for _, key := range t.keysIn[""] {
		if t.has(key) {
			d.note(key, t.at(key))
		}
	}
	d.keys(t)
}

// note keeps the line that made a setting.
func (d *settingsDecoder) note(name string, at place) {
	line, _ := d.lineAt(at.key.from)
	d.set = d.set.WithLine(name, line)
}

// setting reads a word out of a few, however its capitals and blanks are.
func setting[T ~string](t table, key string, of []T, to *T) {
	s, ok := t.str(key)
	if !ok {
		return
	}
	plain := strings.ToLower(strings.Join(strings.Fields(s), " "))
	if i := slices.Index(of, T(plain)); i >= 0 {
		*to = of[i]
		return
	}
	t.fail(key, inWords(key)+": there is no "+printable.Quote(s)+aside(s), oneOf(plain, of))
}
