package cli

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// offered are what a shell is told to complete a command line with, and its directive.
func offered(t *testing.T, line ...string) (words []string, directive string) {
	t.Helper()
	root := (&program{}).root()
	var out bytes.Buffer
	root.SetOut(&out)
	root.SetErr(&out)
	root.SetArgs(append([]string{cobra.ShellCompNoDescRequestCmd}, line...))
	if err := root.Execute(); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(out.String()) {
		switch line = strings.TrimSpace(line); {
		case strings.HasPrefix(line, ":"):
			return words, line
		case line != "":
			words = append(words, line)
		}
	}
	t.Fatalf("no directive: %s", &out)
	return nil, ""
}

func TestCompletion(t *testing.T) {
	const files, byEnding, foldersOnly, no = ":0", ":8", ":16", ":4"
	for line, c := range map[string]struct {
		directive string
		some      string // of what is offered, in order
	}{
		"":                       {files, "card check show why"},
		"show ":                  {byEnding, "toml"},
		"check a.toml ":          {byEnding, "toml"},
		"show a.toml ":           {no, ""},
		"why a.toml ":            {no, ""},
		"due ":                   {foldersOnly, ""},
		"mark ":                  {files, "first-row"},
		"mark first-row ":        {foldersOnly, ""},
		"practise ":              {files, "first-row"},
		"exercise show ":         {files, "first-row"},
		"demonstrate ":           {files, "too-near-the-nape"},
		"rules ":                 {no, "nape ear"},
		"--background ":          {no, "light dark"},
		"show --background ":     {no, "light dark"},
		"--studio ":              {byEnding, "toml"},
		"card a.toml --to ":      {byEnding, "pdf svg txt"},
		"card a.toml --paper ":   {no, "a4 letter"},
		"plan a.toml --to ":      {byEnding, "toml"},
		"check --format ":        {no, "text json"},
		"mark x y --format ":     {no, "text csv json"},
		"view a.toml --from ":    {no, "back left-above"},
		"practise x --learner ":  {no, ""},
		"keys ":                  {no, ""},
		"exercise new --start ":  {byEnding, "toml"},
		"--today ":               {no, ""},
		"view a.toml --parting ": {no, ""},
	} {
		words, directive := offered(t, strings.Split(line, " ")...)
		if directive != c.directive {
			t.Errorf("%q: directive %s, want %s", line, directive, c.directive)
		}
		at := 0
		for _, want := range strings.Fields(c.some) {
			i := slices.Index(words[at:], want)
			if i < 0 {
				t.Errorf("%q: offers %q, want %q in it", line, words, c.some)
				break
			}
			at += i
		}
		if c.some == "" && len(words) > 0 {
			t.Errorf("%q: offers %q", line, words)
		}
	}
}

// What the help of an option gives as its values is what is offered, and no completion is for an option or an argument that is no longer there.
func TestCompletionKnowsTheOptions(t *testing.T) {
	unused := map[string]bool{}
	for name := range option {
		unused[name] = true
	}
	for name := range argument {
		unused[name] = true
	}
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		if c.Name() == "completion" || c.Name() == "help" {
			return
		}
		for name := range strings.FieldsSeq(strings.NewReplacer("[", "", "]", "", "...", "").Replace(c.Use)) {
			delete(unused, name)
		}
		for _, flags := range []*pflag.FlagSet{c.Flags(), c.PersistentFlags()} {
			flags.VisitAll(func(f *pflag.Flag) {
				delete(unused, f.Name)
				delete(unused, c.Name()+" --"+f.Name)
				if f.Name != "format" {
					return
				}
				words, _ := offered(t, c.Name(), "--format", "")
				for _, word := range words {
					if !strings.Contains(f.Usage, word) {
						t.Errorf("%s --format is offered %s, which its help does not name: %s", c.Name(), word, f.Usage)
					}
				}
				if len(words) < 2 {
					t.Errorf("%s --format is offered %q", c.Name(), words)
				}
			})
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk((&program{}).root())
	for name := range unused {
		t.Errorf("nothing is called %s any more", name)
	}
}

// The manual names every command and option, and is the same on another day.
func TestManual(t *testing.T) {
	root := (&program{}).root()
	page, err := manual(root)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(page, `.TH UNDERVEIL 1 "" "underveil" "Head sheets`) {
		t.Errorf("begins %.80q", page)
	}
	if strings.Contains(page, "%!") {
		t.Error("a per cent sign was taken for something else")
	}
	if at := regexp.MustCompile(`\\[^-fe(&]`).FindString(page); at != "" {
		t.Errorf("man does not know %s", at)
	}
	plain := strings.ReplaceAll(page, `\-`, "-")
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		c.Flags().VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(plain, "--"+f.Name) {
				t.Errorf("no option --%s of %s", f.Name, c.CommandPath())
			}
		})
		for _, sub := range c.Commands() {
			if sub.Hidden || sub.Name() == "completion" {
				continue
			}
			if !strings.Contains(plain, "\\fB"+sub.Name()+"\\fP") {
				t.Errorf("no command %s", sub.CommandPath())
			}
			walk(sub)
		}
	}
	walk(root)
	for _, s := range manualSections {
		if !strings.Contains(page, ".SH "+strings.ToUpper(s.name)) {
			t.Errorf("no section %s", s.name)
		}
	}
}
