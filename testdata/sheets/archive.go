// Package sheets makes files such as plants hand in, sound, odd and broken
// ones, byte by byte: no spreadsheet program is asked what a workbook is.
// Beside it lie the sheets of a small plant and of ten plants' habits.
package sheets

import (
	"archive/zip"
	"bytes"
	"hash/crc32"
	"io"
	"slices"
	"strings"
)

// Entry is one file of an archive.
type Entry struct{ Name, Content string }

// Archive is an archive in order.
type Archive []Entry

// Files makes an archive of names and contents, one after the other.
func Files(nameContent ...string) Archive {
	var a Archive
	for i := 0; i+1 < len(nameContent); i += 2 {
		a = append(a, Entry{nameContent[i], nameContent[i+1]})
	}
	return a
}

// With returns a copy with one file replaced, or added at the end.
func (a Archive) With(name, content string) Archive {
	out := slices.Clone(a)
	for i := range out {
		if out[i].Name == name {
			out[i].Content = content
			return out
		}
	}
	return append(out, Entry{name, content})
}

// Without returns a copy that lacks one file.
func (a Archive) Without(name string) Archive {
	return slices.DeleteFunc(slices.Clone(a), func(e Entry) bool { return e.Name == name })
}

// Part returns the content of one file, nothing where there is none.
func (a Archive) Part(name string) string {
	for _, e := range a {
		if e.Name == name {
			return e.Content
		}
	}
	return ""
}

// Replace returns a copy with a text replaced once in one file. A text that
// is not there is a mistake of the caller: it panics.
func (a Archive) Replace(name, old, text string) Archive {
	content := a.Part(name)
	if !strings.Contains(content, old) {
		panic("sheets: " + name + " does not hold " + old)
	}
	return a.With(name, strings.Replace(content, old, text, 1))
}

// Zip packs the archive.
func (a Archive) Zip() []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, e := range a {
		f, err := w.Create(e.Name)
		must(err)
		_, err = io.WriteString(f, e.Content)
		must(err)
	}
	must(w.Close())
	return b.Bytes()
}

// Stored packs the archive without compression, each file with a header that
// change may falsify.
func (a Archive) Stored(change func(*zip.FileHeader)) []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, e := range a {
		h := &zip.FileHeader{
			Name: e.Name, Method: zip.Store, CRC32: crc32.ChecksumIEEE([]byte(e.Content)),
			CompressedSize64: uint64(len(e.Content)), UncompressedSize64: uint64(len(e.Content)),
		}
		change(h)
		f, err := w.CreateRaw(h)
		must(err)
		_, err = io.WriteString(f, e.Content)
		must(err)
	}
	must(w.Close())
	return b.Bytes()
}

// must panics: nothing that is written to memory fails.
func must(err error) {
	if err != nil {
		panic(err)
	}
}
