package cli

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// The release is for these systems, holds these files, and goes nowhere by itself.
func TestTheRelease(t *testing.T) {
	data, err := os.ReadFile("../../.goreleaser.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	var systems []string
	for _, system := range listIn(t, text, "goos") {
		for _, processor := range listIn(t, text, "goarch") {
			systems = append(systems, system+"/"+processor)
		}
	}
	slices.Sort(systems)
	if want := slices.Sorted(slices.Values(targets)); !slices.Equal(systems, want) {
		t.Errorf("it is for %q, want %q", systems, want)
	}
	for _, want := range []string{"env: [CGO_ENABLED=0]", "flags: [-trimpath, -buildvcs=false]", `mod_timestamp: "{{ .CommitTimestamp }}"`, "formats: [tar.gz]", "formats: [zip]",
		"internal/cli.Version={{ .Version }}", "internal/cli.Revision={{", "internal/cli.Made={{", "disable: true", "- .ci/papers .release"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is not in it", want)
		}
	}
	if n := strings.Count(text, "disable: true"); n != 2 || strings.Contains(text, "://") {
		t.Errorf("it may publish something: %d parts are disabled, want release and changelog, and no address", n)
	}
	papers, err := os.ReadFile("../../.ci/papers")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"LICENCES.txt", "underveil.1", "completions/underveil.bash", "completions/_underveil", "completions/underveil.fish", "completions/underveil.ps1"} {
		if !strings.Contains(text, "{src: .release/"+name+", dst: "+name+",") {
			t.Errorf("an archive does not hold %s", name)
		}
		if !strings.Contains(string(papers), `>"$to/`+name+`"`) {
			t.Errorf("nothing writes %s", name)
		}
	}
	if !strings.Contains(text, "- src: README.md\n") {
		t.Error("an archive does not hold README.md")
	}
	ignored, err := os.ReadFile(filepath.FromSlash("../../.gitignore"))
	if err != nil || !strings.Contains(string(ignored), ".release/\n") || !strings.Contains(string(ignored), "dist/\n") {
		t.Errorf("what a release makes is not ignored: %q, %v", ignored, err)
	}
}

// listIn is a list on one line of the file: name: [a, b].
func listIn(t *testing.T, text, name string) []string {
	t.Helper()
	_, rest, ok := strings.Cut(text, "\n    "+name+": [")
	list, _, ok2 := strings.Cut(rest, "]\n")
	if !ok || !ok2 {
		t.Fatalf("no list %s", name)
	}
	return strings.Split(list, ", ")
}

// Whoever builds the same sources gets the same bytes, wherever and whenever. This holds two builds at two places on one machine against each other,
// which share what was compiled before; .ci/release does it for all six systems with nothing shared.
func TestTheSameBytesTwice(t *testing.T) {
	if testing.Short() {
		t.Skip("it links the program twice")
	}
	release := append([]string{"build"}, releaseFlags(t)...)
	var programs [][]byte
	from := filepath.FromSlash("../..")
	for _, place := range []string{"one", "a/longer/way/to/two"} {
		folder, at := filepath.Join(t.TempDir(), filepath.FromSlash(place)), time.Now().AddDate(0, 0, -len(programs))
		copySources(t, from, folder, at)
		from = folder
		cmd := exec.Command("go", append(release, "-o", filepath.Join(folder, "program"), "./cmd/underveil")...)
		cmd.Dir, cmd.Env = folder, append(os.Environ(), "CGO_ENABLED=0", "GOOS=linux", "GOARCH=amd64")
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		program, err := os.ReadFile(filepath.Join(folder, "program"))
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(program, []byte(folder)) {
			t.Errorf("the program tells where it was built: %s", folder)
		}
		programs = append(programs, program)
	}
	if !bytes.Equal(programs[0], programs[1]) {
		t.Errorf("programs of %d and %d bytes differ", len(programs[0]), len(programs[1]))
	}
	for _, want := range []string{"9.8.7", "0123456789ab", "2027-01-02"} {
		if !bytes.Contains(programs[0], []byte(want)) {
			t.Errorf("the program does not say %s of itself", want)
		}
	}
}

// copySources copies what the program is built from, as if it had been changed at some time.
func copySources(t *testing.T, from, to string, at time.Time) {
	t.Helper()
	for _, part := range []string{"cmd", "internal", "assets"} {
		if err := os.CopyFS(filepath.Join(to, part), os.DirFS(filepath.Join(from, part))); err != nil {
			t.Fatal(err)
		}
	}
	for _, file := range []string{"go.mod", "go.sum"} {
		data, err := os.ReadFile(filepath.Join(from, file))
		if err == nil {
			err = os.WriteFile(filepath.Join(to, file), data, 0o600)
		}
		if err == nil {
			err = os.Chtimes(filepath.Join(to, file), at, at)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

// releaseFlags are what .goreleaser.yaml has the program built with, for an invented release.
func releaseFlags(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile("../../.goreleaser.yaml")
	if err != nil {
		t.Fatal(err)
	}
	flags := listIn(t, string(data), "flags")
	_, rest, _ := strings.Cut(string(data), "\n    ldflags:\n")
	var link []string
	for line := range strings.Lines(rest) {
		flag, ok := strings.CutPrefix(line, "      - ")
		if !ok {
			break
		}
		link = append(link, strings.TrimSpace(flag))
	}
	text := strings.NewReplacer("{{ .Version }}", "9.8.7", "{{ slice .FullCommit 0 12 }}", "0123456789ab", "{{ slice .CommitDate 0 10 }}", "2027-01-02").Replace(strings.Join(link, " "))
	if len(link) < 4 || strings.Contains(text, "{{") {
		t.Fatalf("the flags for linking are not understood: %s", text)
	}
	return append(flags, "-ldflags", text)
}
