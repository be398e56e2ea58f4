package cli

import (
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
	"testing"
)

// targets are the systems that a release is made for.
var targets = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

// onlyReadme are modules without a file for their licence, with how the readme goes on after the word License.
var onlyReadme = map[string]string{"github.com/mattn/go-localereader": "MIT\n\n## Author\n"}

// justNamed begins what stands in place of a text where a module has none.
const justNamed = "its readme says no more than:"

const (
	theLibrary = "the Go standard library and runtime"
	theFonts   = "DejaVu Sans, the fonts of the card"
)

// part is something that is in the program on some system, with the licence files that hold for it.
type part struct {
	name    string
	systems map[string]bool
	files   map[string]string // by path
}

// The licences that come with the program are those of just what is linked into it on the six systems, word for word.
func TestLicencesAreThoseOfWhatIsLinked(t *testing.T) {
	want, err := licenceFiles(parts(t))
	if err != nil {
		t.Fatal(err)
	}
	const folder = "../../assets/licences"
	if *update {
		if err := errors.Join(os.RemoveAll(folder), os.Mkdir(folder, 0o755)); err != nil {
			t.Fatal(err)
		}
		for name, text := range want {
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	got := map[string]string{}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		text, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		got[e.Name()] = string(text)
	}
	for _, name := range slices.Sorted(maps.Keys(want)) {
		if got[name] != want[name] {
			t.Errorf("assets/licences/%s is stale; go test ./internal/cli -run Licences -update writes it, and somebody should read what is new", name)
		}
		delete(got, name)
	}
	for name := range got {
		t.Errorf("assets/licences/%s is of nothing that is linked", name)
	}
}

// parts are what is linked into the program on the six systems, and the fonts.
func parts(t *testing.T) []*part {
	t.Helper()
	all := map[string]*part{theFonts: {name: theFonts, files: map[string]string{}}}
	read(t, all[theFonts], "../../assets/fonts/LICENSE")
	for _, target := range targets {
		system, processor, _ := strings.Cut(target, "/")
		cmd := exec.Command("go", "list", "-deps", "-json=ImportPath,Dir,Standard,EmbedFiles,Module", "../../cmd/underveil")
		cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH="+processor, "CGO_ENABLED=0")
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%s: %v", target, err)
		}
		for list := json.NewDecoder(strings.NewReader(string(out))); ; {
			var pkg struct {
				ImportPath, Dir string
				Standard        bool
				EmbedFiles      []string
				Module          *struct {
					Path, Dir string
					Main      bool
				}
			}
			if err := list.Decode(&pkg); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
			name, root := theLibrary, ""
			switch {
			case pkg.Module != nil && pkg.Module.Main:
				continue
			case pkg.Module != nil:
				name, root = pkg.Module.Path, pkg.Module.Dir
			case pkg.Standard:
				root = strings.TrimSuffix(pkg.Dir, filepath.FromSlash("/src/"+pkg.ImportPath))
			}
			if all[name] == nil {
				all[name] = &part{name: name, systems: map[string]bool{}, files: map[string]string{}}
			}
			all[name].systems[system] = true
			if pkg.Standard { // the one in crypto/internal/boring is about object files that are not linked
				read(t, all[name], filepath.Join(root, "LICENSE"))
				continue
			}
			for _, file := range append(pkg.EmbedFiles, "x") {
				readLicences(t, all[name], filepath.Dir(filepath.Join(pkg.Dir, file)), root)
			}
		}
	}
	return slices.SortedFunc(maps.Values(all), func(a, b *part) int { return strings.Compare(a.name, b.name) })
}

// readLicences reads the licence files of a folder and those above it, up to the root of the module.
func readLicences(t *testing.T, p *part, folder, root string) {
	t.Helper()
	for {
		entries, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			name := strings.ToUpper(e.Name())
			for _, begin := range []string{"LICENSE", "LICENCE", "COPYING", "NOTICE", "UNLICENSE"} {
				if strings.HasPrefix(name, begin) && !e.IsDir() && !strings.HasSuffix(name, ".GO") {
					read(t, p, filepath.Join(folder, e.Name()))
				}
			}
		}
		if folder == root || len(folder) <= len(root) {
			break
		}
		folder = filepath.Dir(folder)
	}
	if says := onlyReadme[p.name]; len(p.files) == 0 && says != "" {
		path := filepath.Join(root, "README.md")
		read(t, p, path)
		_, licence, _ := strings.Cut(p.files[path], "## License\n\n")
		author, known := strings.CutPrefix(licence, says)
		if !known {
			t.Fatalf("%s says something else of its licence by now: %s", p.name, path)
		}
		p.files[path] = justNamed + " MIT\n" + strings.TrimSpace(author) + "\n"
	}
}

func read(t *testing.T, p *part, path string) {
	t.Helper()
	if p.files[path] != "" {
		return
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p.files[path] = strings.ReplaceAll(string(text), "\r\n", "\n")
}

// licenceFiles are the list and the texts as they are to be, by their names. Texts that differ in whose they are only are one file.
func licenceFiles(parts []*part) (map[string]string, error) {
	type text struct {
		kind, body string
		notices    []string
	}
	var texts []*text
	same := map[string]*text{} // by what it says, without the breaks of its lines
	width := 0
	for _, p := range parts {
		width = max(width, len(p.name))
	}
	var list strings.Builder
	for _, p := range parts {
		if len(p.files) == 0 {
			return nil, fmt.Errorf("%s has no licence file", p.name)
		}
		var kinds []string
		for _, path := range slices.Sorted(maps.Keys(p.files)) {
			kind, err := licenceKind(p.files[path])
			if err != nil {
				return nil, fmt.Errorf("%s: %s: %w", p.name, filepath.Base(path), err)
			}
			if !slices.Contains(kinds, kind) {
				kinds = append(kinds, kind)
			}
			notice, body := parted(kind, p.files[path])
			key := kind + strings.Join(strings.Fields(body), " ")
			if body == "" { // there is nothing but its name: it is under the text of the others
				i := slices.IndexFunc(texts, func(x *text) bool { return x.kind == kind })
				texts[i].notices = append(texts[i].notices, p.name+"\n"+notice)
				continue
			}
			if same[key] == nil {
				same[key] = &text{kind: kind, body: body}
				texts = append(texts, same[key])
			}
			same[key].notices = append(same[key].notices, p.name+"\n"+notice)
		}
		line := fmt.Sprintf("%-*s  %s", width, p.name, strings.Join(kinds, ", "))
		if len(p.systems) == 1 {
			line = fmt.Sprintf("%-*s only on %s", width+15, line, slices.Collect(maps.Keys(p.systems))[0])
		}
		list.WriteString(line + "\n")
	}
	files, number := map[string]string{filepath.Base(licenceList): list.String()}, map[string]int{}
	for _, x := range texts {
		number[x.kind]++
		name := strings.ToLower(strings.ReplaceAll(x.kind, " ", "-"))
		if n := number[x.kind]; n > 1 {
			name += fmt.Sprint("-", n)
		}
		files[name+".txt"] = x.kind + "\n\n" + strings.Join(x.notices, "") + "\n" + x.body
	}
	return files, nil
}

// parted takes the notices apart from what is said by all with a licence of this kind. Texts of the longer kinds stay whole.
func parted(kind, text string) (notice, body string) {
	if strings.HasPrefix(text, justNamed) {
		return "  " + strings.ReplaceAll(strings.TrimSpace(text), "\n", " ") + "\n", ""
	}
	if kind != "MIT" && !strings.HasPrefix(kind, "BSD") {
		return "", strings.Trim(text, "\n") + "\n"
	}
	var mine, rest strings.Builder
	for line := range strings.Lines(strings.TrimSpace(text)) {
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "Copyright "):
			mine.WriteString("  " + line + "\n")
		case strings.HasPrefix(line, "MIT License"), line == "The MIT License (MIT)": // stands at the top
		default:
			rest.WriteString(line + "\n")
		}
	}
	return mine.String(), strings.Trim(rest.String(), "\n") + "\n"
}

// licenceKind is the name of a licence by what it says. Those that ask for the source of what they are used in, and any that nobody has read, are errors.
func licenceKind(text string) (string, error) {
	says := strings.Join(strings.Fields(text), " ")
	for _, not := range []string{"GNU ", "General Public License", "Mozilla Public License", "Eclipse Public", "Common Development and Distribution", "European Union Public",
		"Server Side Public", "ShareAlike", "Share-Alike", "Business Source", "Commons Clause", "NonCommercial", "non-commercial use only"} {
		if strings.Contains(says, not) {
			return "", fmt.Errorf("speaks of %q, which is not for this program", not)
		}
	}
	const bsd = "Redistribution and use in source and binary forms, with or without modification, are permitted"
	kinds := []struct {
		name  string
		words []string
	}{
		{"Unlicense or BSD-3-Clause", []string{"SPDX-License-Identifier: Unlicense OR BSD-3-Clause", bsd, "unencumbered software released into the public domain"}},
		{"Apache-2.0", []string{"Apache License Version 2.0, January 2004", "TERMS AND CONDITIONS FOR USE, REPRODUCTION, AND DISTRIBUTION"}},
		{"Apache-2.0", []string{`Licensed under the Apache License, Version 2.0 (the "License")`}},
		{"BSD-3-Clause", []string{bsd, "Neither the name of"}},
		{"BSD-2-Clause", []string{bsd}},
		{"Bitstream-Vera", []string{"Bitstream Vera Fonts Copyright", "Arev Fonts Copyright"}},
		{"ISC", []string{"Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted"}},
		{"MIT", []string{"Permission is hereby granted, free of charge, to any person obtaining a copy of this software", "without restriction"}},
		{"MIT", []string{justNamed + " MIT"}},
	}
	for _, k := range kinds {
		if !slices.ContainsFunc(k.words, func(words string) bool { return !strings.Contains(says, words) }) {
			return k.name, nil
		}
	}
	return "", errors.New("a licence of no known kind: read it before it is added here")
}

func TestLicenceKinds(t *testing.T) {
	for text, want := range map[string]string{
		"Permission is hereby granted, free of charge, to any person obtaining a copy\nof this software, to deal without restriction":                   "MIT",
		"Redistribution and use in source and binary forms, with or without\nmodification, are permitted. Neither the name of the owner":                "BSD-3-Clause",
		"Redistribution and use in source and binary forms, with or without modification, are permitted provided that the following conditions are met": "BSD-2-Clause",
		"This program is free software: GNU General Public License":                                                                                     "",
		"Mozilla Public License Version 2.0": "",
		"All rights reserved":                "",
	} {
		if got, err := licenceKind(text); got != want || (err != nil) != (want == "") {
			t.Errorf("%.40q is %q, %v; want %q", text, got, err, want)
		}
	}
	if _, err := licenceFiles([]*part{{name: "none"}}); err == nil || !strings.Contains(err.Error(), "none has no licence file") {
		t.Errorf("a module without a licence: %v", err)
	}
}
