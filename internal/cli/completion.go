package cli

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/underveil/internal/bust"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/settings"
	"example.org/underveil/internal/tui"
)

// completer gives a shell what an argument or an option can be.
type completer = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective)

// argument are the completions of what the commands call their arguments in their first lines. Whatever is not here is not completed.
var argument = map[string]completer{
	"SHEET":     filesOf("toml"),
	"HAND-IN":   filesOf("toml"),
	"FOLDER":    folders,
	"RULE":      ruleIDs,
	"EXERCISE":  byName(exercises),
	"NAME|FILE": byName(exercises),
	"FILE|NAME": byName(demonstrations),
}

// option are the completions of options: by the command and the option, or by the option alone. The others have a value that nobody can guess.
var option = map[string]completer{
	"background": words("light", "dark"),
	"studio":     filesOf("toml"),
	"limits":     filesOf("toml"),
	"start":      filesOf("toml"),
	"from":       words(fromWhere()...),
	"wear":       words("down", "half-up", "low", "high"),
	"weeks":      words("0", "6", "8"),
	"paper":      words(settings.Papers...),

	"card --to":      filesOf("pdf", "svg", "txt"),
	"check --format": words("text", "json"),
	"due --format":   words("text", "csv"),
	"stock --format": words("text", "csv"),
	"order --format": words("text", "csv"),
	"mark --format":  words("text", "csv", "json"),
	"to":             filesOf("toml"),
}

// completes tells a command and those below it what they can be completed with, going by what they say of themselves.
func completes(c *cobra.Command) {
	for _, sub := range c.Commands() {
		completes(sub)
	}
	if c.HasSubCommands() { // beside those, only the shell's own file names are possible
		c.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveDefault
		}
	} else {
		c.ValidArgsFunction = arguments(c)
	}
	c.Flags().VisitAll(func(f *pflag.Flag) { completesOption(c, f.Name) })
	c.PersistentFlags().VisitAll(func(f *pflag.Flag) { completesOption(c, f.Name) })
}

func completesOption(c *cobra.Command, name string) {
	complete := option[c.Name()+" --"+name]
	if complete == nil {
		complete = option[name]
	}
	if complete == nil {
		complete = nothing
	}
	_ = c.RegisterFlagCompletionFunc(name, complete) // it has none yet
}

// arguments completes the arguments of a command by how they are called in its first line: SHEET, [SLOT], NAME|FILE...
func arguments(c *cobra.Command) completer {
	called := strings.Fields(strings.NewReplacer("[", "", "]", "").Replace(c.Use))[1:]
	return func(c *cobra.Command, before []string, begun string) ([]string, cobra.ShellCompDirective) {
		n := len(before)
		if n >= len(called) && (len(called) == 0 || !strings.HasSuffix(called[len(called)-1], "...")) {
			return nothing(c, before, begun)
		}
		complete := argument[strings.TrimSuffix(called[min(n, len(called)-1)], "...")]
		if complete == nil {
			complete = nothing
		}
		return complete(c, before, begun)
	}
}

// words completes one of some words.
func words(of ...string) completer {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return of, cobra.ShellCompDirectiveNoFileComp
	}
}

// filesOf completes the names of files of some kinds.
func filesOf(endings ...string) completer {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return endings, cobra.ShellCompDirectiveFilterFileExt
	}
}

func folders(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}

func nothing(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveNoFileComp
}

// byName completes the name of something that comes with the program; where none begins so, the shell goes on to files.
func byName(list func() ([]tui.Demo, error)) completer {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		all, err := list()
		if err != nil {
			return nil, cobra.ShellCompDirectiveError
		}
		var names []string
		for _, x := range all {
			names = append(names, cobra.CompletionWithDesc(x.Name, x.About))
		}
		return names, cobra.ShellCompDirectiveDefault
	}
}

func ruleIDs(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	var ids []string
	for _, r := range rule.All {
		ids = append(ids, cobra.CompletionWithDesc(r.ID, r.Title))
	}
	return ids, cobra.ShellCompDirectiveNoFileComp
}

// fromWhere are the sides that a head can be drawn from.
func fromWhere() []string {
	var all []string
	for _, name := range bust.Names {
		if all = append(all, name); name != "above" {
			all = append(all, name+"-above")
		}
	}
	return all
}
