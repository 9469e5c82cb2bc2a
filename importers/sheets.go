package importers

import (
	"context"

	"lanewright/importers/sheet"
)

// OpenSheets returns the sheets of files, archives and folders as they stand,
// before any meaning is read; those of files that are refused are not there.
func OpenSheets(ctx context.Context, o Options, paths ...string) ([]*sheet.Sheet, error) {
	rd := newReading()
	err := rd.takeFiles(ctx, o, paths)
	return rd.sheets(), err
}

// UploadedSheets is OpenSheets for files that came as bytes.
func UploadedSheets(ctx context.Context, o Options, files ...Upload) ([]*sheet.Sheet, error) {
	rd := newReading()
	err := rd.takeUploads(ctx, o, files)
	return rd.sheets(), err
}

func (rd *reading) sheets() []*sheet.Sheet {
	list := make([]*sheet.Sheet, len(rd.tables))
	for i, t := range rd.tables {
		list[i] = t.sheet
	}
	return list
}
