package cli

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/settings"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

// userSettings are the user's settings as they were read. Where the file can't be read they are those of somebody who made none: a word
// written wrongly keeps nobody from a client's sheet.
type userSettings struct {
	settings.Settings
	path  string // of the file, whether or not there is one; empty without a folder for it
	there bool
	err   error // why it can't be read, or nil
}

// settings are the user's settings, read once.
func (p *program) settings() *userSettings {
	if p.set == nil {
		p.set = &userSettings{Settings: settings.Default()}
		p.set.read()
	}
	return p.set
}

func (s *userSettings) read() {
	path, err := settingsPath()
	if err != nil {
		return // without a folder for settings there is no such file
	}
	s.path = path
	if _, err := os.Lstat(path); os.IsNotExist(err) {
		return
	}
	s.there = true
	s.Settings, s.err = sheetfile.LoadSettings(path, tui.Commands())
}

// settingsPath is where the user's settings are kept: beside the studio.
func settingsPath() (string, error) {
	d, err := os.UserConfigDir()
	if err != nil {
		return "", err
	}
	return filepath.Join(d, "underveil", "settings.toml"), nil
}

// noSettings is told once where the settings can't be read, by the editor in its own place.
const noSettings = "the settings can't be read, so none hold; underveil settings says why"

// tellOfSettings says on standard error that the settings can't be read, where that was not told otherwise.
func (p *program) tellOfSettings() {
	if p.set != nil && p.set.err != nil && !p.setTold {
		fmt.Fprintln(p.stderr, "underveil: "+noSettings)
	}
}

func (p *program) settingsCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "settings", Short: "Tell which settings are in force; settings write begins a file of them", Args: cobra.NoArgs,
		Long: "The settings file says how the screen looks, in what lengths are shown, and which keys do what. It is a TOML file in the\n" +
			"settings folder. A flag goes before a setting, and a setting before what the terminal says of itself.",
		RunE: func(*cobra.Command, []string) error {
			p.setTold = true
			set := p.settings()
			if set.err != nil {
				return set.err
			}
			rows, err := p.inForce()
			if err != nil {
				return err
			}
			fmt.Fprintln(p.stdout, set.whichFile())
			for _, r := range rows {
				fmt.Fprintf(p.stdout, "%-16s%-21s %s\n", r.name, r.value, printable.Line(r.from))
			}
			return nil
		},
	}
	var to string
	write := &cobra.Command{
		Use: "write", Short: "Write a settings file to begin with, every setting in it as a remark", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			p.setTold = true
			return p.writeSettings(to)
		},
	}
	write.Flags().StringVar(&to, "to", "", "the file to write instead of the one in the settings folder; - shows it")
	c.AddCommand(write)
	return c
}

// whichFile says which settings file is read.
func (s *userSettings) whichFile() string {
	switch {
	case s.path == "":
		return "no settings file, and no folder for one"
	case !s.there:
		return "no settings file; underveil settings write begins " + printable.Line(s.path)
	}
	return "settings file " + printable.Line(s.path)
}

// writeSettings writes the settings file to begin with to where it belongs, or elsewhere.
func (p *program) writeSettings(to string) error {
	data := sheetfile.NewSettings(tui.Commands())
	if to == "-" {
		_, err := p.stdout.Write(data)
		return err
	}
	path := to
	if to == "" {
		own, err := settingsPath()
		if err != nil {
			return fmt.Errorf("there is no folder for settings: %w; name a file with --to", err)
		}
		if err := os.MkdirAll(filepath.Dir(own), 0o700); err != nil {
			return err
		}
		path = own
	}
	if _, err := os.Lstat(path); err == nil || !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("%s is there already; change that, or name another file with --to", path)
	}
	if err := sheetfile.WriteAtomic(path, data); err != nil {
		return err
	}
	fmt.Fprintln(p.stdout, printable.Line(path))
	return nil
}

// inForce is a setting in force and where it comes from.
type inForce struct{ name, value, from string }

// inForce lists the settings in force, the commands only that were given keys.
func (p *program) inForce() ([]inForce, error) {
	look, err := p.look()
	if err != nil {
		return nil, err
	}
	set := p.settings()
	marks := settings.Unicode
	if look.glyphs == figure.ASCII {
		marks = settings.ASCII
	}
	mouse := "true"
	if set.NoMouse {
		mouse = "false"
	}
	rows := []inForce{
		{"colours", string(look.colours), look.whyColours},
		{"marks", string(marks), look.whyGlyphs},
		{"mouse", mouse, set.from("mouse")},
		{"units", settings.UnitName(set.Units), set.from("units")},
		{"paper", set.Paper, set.from("paper")},
	}
	for _, c := range tui.Commands() {
		keys, given := set.Keys[c.ID]
		if !given {
			continue
		}
		if c.Stays != "" && !slices.Contains(keys, c.Stays) {
			keys = append(slices.Clip(keys), c.Stays)
		}
		rows = append(rows, inForce{c.ID, cmp.Or(strings.Join(keys, " "), "no key"), set.from("keys." + c.ID)})
	}
	return append(rows, inForce{"other keys", "", "as underveil keys lists them"}), nil
}

// from is where a setting comes from that is not found out.
func (s *userSettings) from(name string) string {
	if line := s.Line(name); line > 0 {
		return fmt.Sprintf("settings, line %d", line)
	}
	return "default"
}
