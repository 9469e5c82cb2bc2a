package sheet_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

// checkSound checks that data is read whole or refused in words, with rows
// and cells in order. The limits are such that no try takes long.
func checkSound(t *testing.T, name string, data []byte) {
	limits := sheet.DefaultLimits()
	limits.Cells, limits.InflatedBytes = 50_000, 4<<20
	book, err := sheet.Read(context.Background(), name, data, limits)
	if err != nil {
		var r *sheet.Refused
		require.True(t, errors.As(err, &r), "%v", err)
		require.NotEmpty(t, r.Summary)
		require.NotEmpty(t, r.Remedy)
		require.NotEmpty(t, r.Detail)
		return
	}
	for _, s := range book.Sheets {
		last := 0
		for _, row := range s.Rows {
			require.Greater(t, row.Number, last)
			last = row.Number
			require.NotEmpty(t, row.Cells)
			require.False(t, row.Cells()[row.Width()-1].IsEmpty())
			for _, c := range row.Cells() {
				require.False(t, c.Number && c.Raw == "")
				require.False(t, c.Date && !c.Number)
			}
		}
	}
}

// small returns the odd and broken files that are small enough to be changed
// at every place.
func small() []sheets.File {
	return slices.DeleteFunc(append(sheets.Odd(), sheets.Broken()...), func(f sheets.File) bool { return len(f.Data) > 16<<10 })
}

func FuzzCSV(f *testing.F) {
	for _, s := range []string{"a,b\n1,2\n", "a;b\n\"x\ny\";1,5\n", "sep=|\na|b", "\ufeffa\tb\r\n", "\xff\xfea\x00", "\"open", "a,\"b\"c\n"} {
		f.Add([]byte(s))
	}
	for _, file := range small() {
		if strings.HasSuffix(file.Name, "csv") || strings.HasSuffix(file.Name, "txt") {
			f.Add(file.Data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) { checkSound(t, "Parts.csv", data) })
}

// FuzzArchive changes the bytes of a file.
func FuzzArchive(f *testing.F) {
	files := [][]byte{sheets.Workbook(oneCell).Zip(), asIs(sheets.Workbook(oneCell)), asIs(sheets.Files("Parts.csv", "a,b\n"))}
	for _, file := range small() {
		files = append(files, file.Data)
	}
	for i := range files {
		f.Add(uint16(i), []byte(nil))
	}
	f.Fuzz(func(t *testing.T, which uint16, edits []byte) {
		checkSound(t, "Plant.xlsx", edited(files[int(which)%len(files)], edits))
	})
}

// FuzzPart changes one part of a workbook of either kind and packs it anew, so
// that its checksum is right.
func FuzzPart(f *testing.F) {
	parts := everyPart(f)
	for i := range parts {
		f.Add(uint16(i), []byte(nil))
	}
	f.Fuzz(func(t *testing.T, which uint16, edits []byte) {
		p := parts[int(which)%len(parts)]
		checkSound(t, "Plant.xlsx", asIs(p.of.With(p.name, string(edited([]byte(p.of.Part(p.name)), edits)))))
	})
}

// asIs packs without compression, which costs more than reading.
func asIs(a sheets.Archive) []byte { return a.Stored(func(*zip.FileHeader) {}) }

// part is one part of an archive.
type part struct {
	of   sheets.Archive
	name string
}

// everyPart returns the different parts of the small workbooks, and those of
// testdata/parts in workbooks that are sound.
func everyPart(f *testing.F) (list []part) {
	f.Helper()
	seen := map[string]bool{}
	add := func(a sheets.Archive, name string) {
		if key := name + "\n" + a.Part(name); !seen[key] {
			seen[key] = true
			list = append(list, part{a, name})
		}
	}
	for _, file := range small() {
		a := unpacked(file.Data)
		for _, e := range a {
			add(a, e.Name)
		}
	}
	files, err := os.ReadDir("testdata/parts")
	require.NoError(f, err)
	for _, file := range files {
		data, err := os.ReadFile("testdata/parts/" + file.Name())
		require.NoError(f, err)
		a, name := sheets.Workbook(""), sheets.SheetPart
		if strings.HasPrefix(file.Name(), "content-") {
			a, name = sheets.OpenDocument(""), "content.xml"
		}
		add(a.With(name, string(data)), name)
	}
	return list
}

// unpacked returns the files of an archive without its folders, none where it
// is broken.
func unpacked(data []byte) (a sheets.Archive) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil
	}
	for _, file := range z.File {
		if strings.HasSuffix(file.Name, "/") {
			continue
		}
		r, err := file.Open()
		if err != nil {
			return nil
		}
		content, err := io.ReadAll(r)
		if err != nil {
			return nil
		}
		a = append(a, sheets.Entry{Name: file.Name, Content: string(content)})
	}
	return a
}

// edited applies edits to a copy of data. An edit is a place (two bytes), how
// many bytes go there, and how many come: up to 127 that follow, or, less 128,
// a copy of so many from the place that follows. A short list of edits says
// what a whole file would, so that a fuzzer makes short work of it.
func edited(data, edits []byte) []byte {
	data = slices.Clone(data)
	place := func() int {
		at := (int(edits[0])<<8 | int(edits[1])) % (len(data) + 1)
		edits = edits[2:]
		return at
	}
	for len(edits) >= 4 {
		at := place()
		goes, n := int(edits[0]), int(edits[1])
		edits = edits[2:]
		var comes []byte
		switch {
		case n < 128:
			comes = edits[:min(n, len(edits))]
			edits = edits[len(comes):]
		case len(edits) >= 2:
			from := place()
			comes = slices.Clone(data[from:min(from+n-128, len(data))])
		}
		data = slices.Replace(data, at, min(at+goes, len(data)), comes...)
	}
	return data
}

// FuzzEncoding reads texts in an older encoding: what is read can be read again.
func FuzzEncoding(f *testing.F) {
	f.Add([]byte("Beh\xe4lter;\x80"), uint8(0))
	f.Add([]byte("a,b"), uint8(3))
	f.Fuzz(func(t *testing.T, data []byte, which uint8) {
		names := sheet.Encodings()
		form := sheet.Form{Encoding: names[int(which)%len(names)]}
		book, err := sheet.ReadAs(context.Background(), "Parts.csv", data, form, sheet.DefaultLimits())
		if err != nil {
			return
		}
		for _, row := range book.Sheets[0].Rows {
			for _, c := range row.Cells() {
				require.True(t, utf8.ValidString(c.Text))
			}
		}
	})
}
