package importers

import (
	"context"
	"errors"

	"lanewright/importers/mapping"
	"lanewright/importers/sheet"
)

// Options say what is known about files beyond what they show themselves.
type Options struct {
	// Mapping is what somebody said their columns mean; nil when nobody did.
	Mapping *mapping.Mapping
	// Known are mappings of earlier files. The first one whose tables are all
	// there, heading by heading, is used where Mapping is nil.
	Known []*mapping.Mapping
	// Onto brings the sheets that the files leave out; see Onto.
	Onto *Base
}

// ReadFilesWith is ReadFiles with what is known about the files.
func ReadFilesWith(ctx context.Context, o Options, paths ...string) (*Result, error) {
	rd := newReading()
	if err := rd.takeFiles(ctx, o, paths); err != nil {
		return nil, err
	}
	return rd.resultWith(o)
}

func (rd *reading) takeFiles(ctx context.Context, o Options, paths []string) error {
	for _, path := range paths {
		err := rd.takeAs(path, o, func(form sheet.Form) (*sheet.Book, error) {
			return sheet.OpenAs(ctx, path, form, sheet.DefaultLimits())
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// ReadBytesWith is ReadBytes with what is known about the file.
func ReadBytesWith(ctx context.Context, o Options, name string, data []byte) (*Result, error) {
	return ReadUploads(ctx, o, Upload{name, data})
}

// Upload is a file that came as bytes. The name's extension helps to tell the
// format, and findings show it.
type Upload struct {
	Name string
	Data []byte
}

// ReadUploads reads one or more uploads as one plant.
func ReadUploads(ctx context.Context, o Options, files ...Upload) (*Result, error) {
	rd := newReading()
	if err := rd.takeUploads(ctx, o, files); err != nil {
		return nil, err
	}
	return rd.resultWith(o)
}

func (rd *reading) takeUploads(ctx context.Context, o Options, files []Upload) error {
	for _, f := range files {
		err := rd.takeAs(f.Name, o, func(form sheet.Form) (*sheet.Book, error) {
			return sheet.ReadAs(ctx, f.Name, f.Data, form, sheet.DefaultLimits())
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// takeAs opens a file as the mapping says. A text in an encoding that nobody
// named is tried in those of the known mappings, and taken in the first with
// which it is what that mapping is about.
func (rd *reading) takeAs(path string, o Options, open func(sheet.Form) (*sheet.Book, error)) error {
	if o.Mapping != nil {
		book, err := open(formOf(o.Mapping))
		return rd.take(path, book, err)
	}
	book, err := open(sheet.Form{})
	var refused *sheet.Refused
	if !errors.As(err, &refused) || refused.Code != sheet.CodeNotUTF8 {
		return rd.take(path, book, err)
	}
	for _, known := range o.Known {
		if known.Encoding == "" {
			continue
		}
		trial := newReading()
		other, failed := open(formOf(known))
		if failed != nil || trial.take(path, other, nil) != nil {
			continue
		}
		if trial.split(); trial.fits(known) {
			return rd.take(path, other, nil)
		}
	}
	return rd.take(path, book, err)
}

func formOf(m *mapping.Mapping) sheet.Form {
	form := sheet.Form{Encoding: m.Encoding}
	if m.Delimiter != "" {
		form.Delimiter = m.Delimiter[0]
	}
	return form
}

// resultWith settles which mapping holds and reads the tables.
func (rd *reading) resultWith(o Options) (*Result, error) {
	rd.mapping, rd.known, rd.onto = o.Mapping, o.Known, o.Onto
	return rd.result()
}

// chooseMapping takes the first known mapping that fits, where none was given.
func (rd *reading) chooseMapping() {
	for _, known := range rd.known {
		if rd.mapping == nil && rd.fits(known) {
			rd.mapping = known
		}
	}
}
