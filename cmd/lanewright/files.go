package main

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"lanewright/importers/sheet"
)

// writeFile writes a file as a whole or not at all: beside it first, then in
// its place. What is no plain file (a pipe, a device) is written directly. The
// name "-" is standard output.
func (p *program) writeFile(name string, write func(io.Writer) error) error {
	if name == "-" {
		return buffered(p.out, write)
	}
	if target, err := filepath.EvalSymlinks(name); err == nil {
		name = target
	}
	if at, err := os.Stat(name); err == nil && !at.Mode().IsRegular() {
		f, err := os.OpenFile(name, os.O_WRONLY, 0)
		if err != nil {
			return fmt.Errorf("write: %w", err)
		}
		defer f.Close()
		return buffered(f, write)
	}
	return replace(name, write)
}

// text writes a text.
func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// replace writes beside name and moves the result over it.
func replace(name string, write func(io.Writer) error) (err error) {
	beside := fmt.Sprintf("%s/.%s.%08x", filepath.Dir(name), filepath.Base(name), rand.Uint32())
	f, err := os.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	defer func() {
		if err != nil {
			_ = f.Close()
			_ = os.Remove(beside)
			err = fmt.Errorf("write %s: %w", name, err)
		}
	}()
	if err := buffered(f, write); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(beside, name)
}

func buffered(w io.Writer, write func(io.Writer) error) error {
	b := bufio.NewWriterSize(w, 1<<16)
	if err := write(b); err != nil {
		return err
	}
	return b.Flush()
}

// distinct refuses outputs that would overwrite an input or one another.
func distinct(inputs []string, outputs ...string) error {
	taken := withSheets(inputs)
	for _, out := range outputs {
		if out == "" || out == "-" {
			continue
		}
		for _, in := range taken {
			if in != "" && sameFile(in, out) {
				return usagef("%s would be written over %s", out, in)
			}
		}
		taken = append(taken, out)
	}
	return nil
}

// withSheets adds the sheets that lie in folders among the inputs.
func withSheets(inputs []string) []string {
	all := slices.Clone(inputs)
	for _, in := range inputs {
		if in == "" {
			continue
		}
		entries, _ := os.ReadDir(in) // what is no folder has none
		for _, e := range entries {
			if sheet.IsTable(e.Name()) {
				all = append(all, filepath.Join(in, e.Name()))
			}
		}
	}
	return all
}

func sameFile(a, b string) bool {
	if filepath.Clean(a) == filepath.Clean(b) {
		return true
	}
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// exists reports whether name is there; an empty folder is not when a folder
// is to be written.
func exists(name string, folder bool) bool {
	if folder {
		entries, err := os.ReadDir(name)
		return err != nil && !os.IsNotExist(err) || len(entries) > 0
	}
	_, err := os.Lstat(name)
	return err == nil
}
