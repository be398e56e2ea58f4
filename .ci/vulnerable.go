//go:build ignore

// Command vulnerable looks for known vulnerabilities in the module in the working folder: see the script beside it.
//
// The database is taken as a module too: its entries lie in data/osv of golang.org/x/vulndb. Of those only what is about the modules at hand, the standard
// library and the tools is handed to govulncheck, which else reads all of them for every system.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const (
	database = "golang.org/x/vulndb@latest"
	checker  = "golang.org/x/vuln/cmd/govulncheck@v1.9.0"
)

var systems = []string{"linux", "darwin", "windows"}

func main() {
	began := time.Now()
	reachable, err := run()
	if err != nil {
		fmt.Fprintln(os.Stderr, "vulnerable:", err)
		os.Exit(2)
	}
	fmt.Printf("took %.0f s\n", time.Since(began).Seconds())
	if reachable > 0 {
		fmt.Printf("%d known vulnerabilities can be reached\n", reachable)
		os.Exit(1)
	}
	fmt.Println("no known vulnerability can be reached")
}

func run() (reachable int, err error) {
	work, err := os.MkdirTemp("", "vulnerable")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(work)
	modules, err := modulesAtHand()
	if err != nil {
		return 0, err
	}
	entries, err := chosen(modules, work)
	if err != nil {
		return 0, err
	}
	tool := filepath.Join(work, "govulncheck")
	install := exec.Command("go", "install", checker)
	install.Env = append(os.Environ(), "GOBIN="+work, "GOFLAGS=")
	if out, err := install.CombinedOutput(); err != nil {
		return 0, fmt.Errorf("installing %s: %w\n%s", checker, err, out)
	}
	found := map[string]*finding{}
	for _, system := range systems {
		if err := check(tool, filepath.Join(work, "osv"), system, found); err != nil {
			return 0, err
		}
	}
	far := 0
	for _, id := range slices.Sorted(maps.Keys(found)) {
		f := found[id]
		switch f.how {
		case required:
			far++
			continue
		case called:
			reachable++
		}
		fmt.Printf("%s  %s: %s\n    in %s %s, mended in %s; %s; on %s\n", id, f.how, entries[id], f.Trace[0].Module, f.Trace[0].Version, f.fixed(), f.way(), strings.Join(f.systems, ", "))
	}
	fmt.Printf("%d more are in packages that are no part of the program, of modules that it takes others from\n", far)
	return reachable, nil
}

// modulesAtHand are the modules of the build list, with their versions; stdlib and toolchain are how the database names Go itself.
func modulesAtHand() (map[string]string, error) {
	out, err := exec.Command("go", "list", "-m", "-json", "all").Output()
	if err != nil {
		return nil, fmt.Errorf("go list -m all: %w", err)
	}
	goVersion, err := exec.Command("go", "env", "GOVERSION").Output()
	if err != nil {
		return nil, err
	}
	version := strings.TrimSpace(string(goVersion))
	modules := map[string]string{"stdlib": version, "toolchain": version}
	for list := json.NewDecoder(bytes.NewReader(out)); ; {
		var m struct {
			Path, Version string
			Replace       *struct{ Path, Version string }
		}
		if err := list.Decode(&m); errors.Is(err, io.EOF) {
			return modules, nil
		} else if err != nil {
			return nil, err
		}
		if m.Replace != nil {
			m.Path, m.Version = m.Replace.Path, m.Replace.Version
		}
		modules[m.Path] = m.Version
	}
}

// chosen copies the entries about these modules to osv in the working folder, and returns what each is about by its id.
func chosen(modules map[string]string, work string) (map[string]string, error) {
	fetch := exec.Command("go", "mod", "download", "-json", database)
	fetch.Dir = work // outside of any module
	out, err := fetch.Output()
	var got struct{ Version, Dir, Error string }
	if jsonErr := json.Unmarshal(out, &got); jsonErr != nil || got.Error != "" || err != nil {
		return nil, fmt.Errorf("getting %s: %w %s", database, errors.Join(err, jsonErr), got.Error)
	}
	from, to := filepath.Join(got.Dir, "data", "osv"), filepath.Join(work, "osv")
	if err := os.Mkdir(to, 0o755); err != nil {
		return nil, err
	}
	files, err := filepath.Glob(filepath.Join(from, "GO-*.json"))
	if err != nil {
		return nil, err
	}
	if len(files) < 1000 {
		return nil, fmt.Errorf("%s has only %d entries in data/osv; is it still where the database lies?", got.Version, len(files))
	}
	about := map[string]string{}
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		var entry struct {
			ID, Summary, Withdrawn string
			Affected               []struct{ Package struct{ Name string } }
		}
		if err := json.Unmarshal(data, &entry); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		for _, a := range entry.Affected {
			if _, ours := modules[a.Package.Name]; ours && entry.Withdrawn == "" && about[entry.ID] == "" {
				about[entry.ID] = entry.Summary
				if err := os.WriteFile(filepath.Join(to, filepath.Base(path)), data, 0o644); err != nil {
					return nil, err
				}
			}
		}
	}
	fmt.Printf("looked at %d entries of the Go vulnerability database as of %s: %d are about the %d modules at hand or about %s\n",
		len(files), day(got.Version), len(about), len(modules)-2, modules["stdlib"])
	return about, nil
}

// day is when a pseudo-version was made.
func day(version string) string {
	parts := strings.Split(version, "-")
	if len(parts) < 3 {
		return version
	}
	at, err := time.Parse("20060102150405", strings.TrimPrefix(parts[len(parts)-2], "0."))
	if err != nil {
		return version
	}
	return at.Format("2006-01-02 15:04")
}

// How near the program comes to what is vulnerable.
const (
	required = iota
	imported
	called
)

type nearness int

func (n nearness) String() string {
	return [...]string{"required", "imported, and not called", "CALLED"}[n]
}

// finding is a vulnerability as govulncheck reports it: the trace begins with what is vulnerable and ends where the program comes to it.
type finding struct {
	OSV          string
	FixedVersion string `json:"fixed_version"`
	Trace        []struct{ Module, Version, Package, Function, Receiver string }

	how     nearness
	systems []string
}

func (f *finding) fixed() string {
	if f.FixedVersion == "" {
		return "no version"
	}
	return f.FixedVersion
}

// way is how the program comes to it.
func (f *finding) way() string {
	at := f.Trace[0]
	if f.how != called {
		return "package " + at.Package
	}
	last := f.Trace[len(f.Trace)-1]
	return fmt.Sprintf("%s.%s, from %s.%s", at.Package, strings.TrimPrefix(at.Receiver+"."+at.Function, "."), last.Package, strings.TrimPrefix(last.Receiver+"."+last.Function, "."))
}

// check runs govulncheck for one system and keeps the nearest of each finding.
func check(tool, db, system string, found map[string]*finding) error {
	cmd := exec.Command(tool, "-format", "json", "-db", "file://"+filepath.ToSlash(db), "./...")
	cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
	var trouble bytes.Buffer
	cmd.Stderr = &trouble
	out, err := cmd.Output()
	if err != nil { // as JSON, what it finds is no error
		return fmt.Errorf("govulncheck for %s: %w\n%s", system, err, &trouble)
	}
	scanned := false
	for messages := json.NewDecoder(bytes.NewReader(out)); ; {
		var m struct {
			Finding *finding
			SBOM    *struct{ Modules []any }
		}
		if err := messages.Decode(&m); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return err
		}
		scanned = scanned || m.SBOM != nil && len(m.SBOM.Modules) > 0
		if f := m.Finding; f != nil && len(f.Trace) > 0 {
			f.note(system, found)
		}
	}
	if !scanned {
		return fmt.Errorf("govulncheck for %s says of no module that it was looked at", system)
	}
	return nil
}

func (f *finding) note(system string, found map[string]*finding) {
	switch {
	case f.Trace[0].Function != "":
		f.how = called
	case f.Trace[0].Package != "":
		f.how = imported
	}
	was := found[f.OSV]
	if was != nil {
		f.systems = was.systems
	}
	if !slices.Contains(f.systems, system) {
		f.systems = append(f.systems, system)
	}
	if was == nil || f.how > was.how {
		found[f.OSV] = f
	} else {
		was.systems = f.systems
	}
}
