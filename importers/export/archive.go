package export

import (
	"archive/zip"
	"bytes"
	"cmp"
	"compress/flate"
	"errors"
	"hash/crc32"
	"io"
	"io/fs"
	"slices"

	"github.com/xuri/excelize/v2"
)

// orderedZip is the zip archive of a workbook with its entries in the order of
// their names and no times, so that the same sheets give the same bytes: the
// workbook library hands over streamed sheets in no fixed order. Entries are
// compressed as they come, so that only compressed bytes wait in memory.
type orderedZip struct {
	out     io.Writer
	entries []*zipEntry
}

var _ excelize.ZipWriter = (*orderedZip)(nil)

type zipEntry struct {
	name string
	data bytes.Buffer
	pack *flate.Writer
	crc  uint32
	size uint64
}

func newOrderedZip(w io.Writer) excelize.ZipWriter { return &orderedZip{out: w} }

// Create starts an entry; it may be written until Close.
func (z *orderedZip) Create(name string) (io.Writer, error) {
	e := &zipEntry{name: name}
	var err error
	e.pack, err = flate.NewWriter(&e.data, flate.DefaultCompression)
	z.entries = append(z.entries, e)
	return e, err
}

// AddFS is asked for by the interface and never called by a workbook.
func (z *orderedZip) AddFS(fs.FS) error { return errors.ErrUnsupported }

// Write adds to the entry.
func (e *zipEntry) Write(p []byte) (int, error) {
	e.crc = crc32.Update(e.crc, crc32.IEEETable, p)
	e.size += uint64(len(p))
	return e.pack.Write(p)
}

// Close writes the archive.
func (z *orderedZip) Close() error {
	slices.SortStableFunc(z.entries, func(a, b *zipEntry) int { return cmp.Compare(a.name, b.name) })
	archive := zip.NewWriter(z.out)
	for _, e := range z.entries {
		if err := e.copyTo(archive); err != nil {
			return err
		}
	}
	return archive.Close()
}

func (e *zipEntry) copyTo(archive *zip.Writer) error {
	if err := e.pack.Close(); err != nil {
		return err
	}
	w, err := archive.CreateRaw(&zip.FileHeader{
		Name: e.name, Method: zip.Deflate, CRC32: e.crc,
		CompressedSize64: uint64(e.data.Len()), UncompressedSize64: e.size,
	})
	if err != nil {
		return err
	}
	_, err = w.Write(e.data.Bytes())
	return err
}
