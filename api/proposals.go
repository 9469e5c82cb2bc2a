package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/wire"
	"lanewright/importers"
	"lanewright/importers/annotate"
	"lanewright/importers/sheet"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
)

type proposalInput struct {
	FileInput
	Onto int `query:"onto" minimum:"-1" doc:"take the sheets that the files leave out from this revision; -1 is the latest, 0 none"`
	Most int `query:"findings" minimum:"0" doc:"list at most so many findings of each code, 0 all; codes counts all of them"`
}

// Reading is a proposal with what the files would change. It is exported, as
// FileInput is, for the description of the API.
type Reading struct {
	wire.Proposal
	Name     string        `json:"name" doc:"the plant's name as the files have it"`
	Errors   int           `json:"errors"`
	Warnings int           `json:"warnings"`
	Notes    int           `json:"notes"`
	Codes    []findingCode `json:"codes" doc:"codes of all findings, the gravest first"`
	Facts    wire.Facts    `json:"facts"`
	Changes  *wire.Changes `json:"changes" doc:"what differs from the latest revision; null while something is asked and where nothing could be used"`
}

// proposeMapping says what the columns of files seem to mean, what is wrong
// with them, and what they would change.
func (s *server) proposeMapping(ctx context.Context, in *proposalInput) (*output[Reading], error) {
	read, err := s.tryFiles(ctx, in)
	if err != nil {
		return nil, err
	}
	out := Reading{
		Name: read.result.Plant.Name, Facts: wire.CountFacts(&read.result.Plant), Codes: countCodes(read.result.Findings),
		Errors: read.result.Findings.Count(finding.Error), Warnings: read.result.Findings.Count(finding.Warning), Notes: read.result.Findings.Count(finding.Note),
	}
	if usedRows(read.result) > 0 && len(read.result.Mapping.Questions()) == 0 {
		changes, err := s.changes(ctx, in.Plant, &read.result.Plant)
		if err != nil {
			return nil, err
		}
		out.Changes = &changes
	}
	encodings := encodingsOf(read.files, read.result.Findings)
	read.result.Findings = mostOfEach(read.result.Findings, in.Most)
	out.Proposal = wire.NewProposal(read.result, encodings)
	return current(out), nil
}

// tried are files that were read to see what they hold.
type tried struct {
	files   []importers.Upload
	options importers.Options
	result  *importers.Result
}

func (s *server) tryFiles(ctx context.Context, in *proposalInput) (tried, error) {
	h, err := in.handedIn()
	if err != nil {
		return tried{}, err
	}
	o, _, err := s.known(ctx, &in.FileInput, h, in.Onto, false)
	if err != nil {
		return tried{}, err
	}
	read, err := s.readFiles(ctx, o, h.files)
	return tried{h.files, o, read}, err
}

// encodingsOf shows a text that is not UTF-8 in each encoding it may have. A
// text inside an archive is not looked into: then the names are all there is.
func encodingsOf(files []importers.Upload, findings finding.List) []sheet.Preview {
	i := slices.IndexFunc(findings, func(f finding.Finding) bool { return f.Code == sheet.CodeNotUTF8 })
	if i < 0 {
		return nil
	}
	for _, f := range files {
		if f.Name == findings[i].Origin.File && !bytes.HasPrefix(f.Data, []byte("PK")) {
			return sheet.Previews(f.Data)
		}
	}
	var names []sheet.Preview
	for _, name := range sheet.Encodings() {
		names = append(names, sheet.Preview{Encoding: name})
	}
	return names
}

// mostOfEach keeps the first few findings of each code, 0 all.
func mostOfEach(list finding.List, most int) finding.List {
	if most == 0 {
		return list
	}
	seen := map[string]int{}
	return filter(list, func(f finding.Finding) bool {
		seen[f.Code]++
		return seen[f.Code] <= most
	})
}

type excerptInput struct {
	FileInput
	File    string `query:"file" maxLength:"200" required:"true" doc:"file of the sheet, as findings name it"`
	Sheet   string `query:"sheet" maxLength:"500" required:"true" doc:"name of the sheet"`
	Row     int    `query:"row" minimum:"0" maximum:"2000000" doc:"row to show, from 1"`
	Around  int    `query:"around" minimum:"0" maximum:"200" default:"10" doc:"rows before it and after it"`
	Heading int    `query:"heading" minimum:"0" maximum:"2000000" doc:"row of the headings, to be shown too; 0 for none"`
	Lines   int    `query:"lines" minimum:"0" maximum:"2" doc:"lines that they have"`
}

// readExcerpt shows a part of a sheet as it stands in a file.
func (s *server) readExcerpt(ctx context.Context, in *excerptInput) (*output[wire.Excerpt], error) {
	h, err := in.handedIn()
	if err != nil {
		return nil, err
	}
	o, err := s.mappingsFor(ctx, &in.FileInput, h, false)
	if err != nil {
		return nil, err
	}
	done, err := s.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	at := finding.Origin{File: in.File, Sheet: in.Sheet, Row: in.Row}
	e, err := importers.ReadExcerpt(ctx, o, at, in.Around, in.Heading, in.Lines, h.files...)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", h.name(), err)
	}
	if !e.Found {
		return nil, missing("sheet", in.Sheet)
	}
	return current(wire.NewExcerpt(in.File, in.Sheet, e)), nil
}

// annotateFile sends a workbook back with its findings in it; of files of other
// kinds, or several, a copy as a workbook.
func (s *server) annotateFile(ctx context.Context, in *proposalInput) (*huma.StreamResponse, error) {
	read, err := s.tryFiles(ctx, in)
	if err != nil {
		return nil, err
	}
	if len(read.result.Sheets) == 0 {
		return nil, problem(http.StatusUnprocessableEntity, "No sheet could be read, so there is no cell to mark; the findings say why.")
	}
	var book bytes.Buffer
	if err := s.writeAnnotated(ctx, &book, read); err != nil {
		return nil, fmt.Errorf("annotate %s: %w", read.files[0].Name, err)
	}
	return s.send(hashed(book.Bytes()), "", xlsx, `attachment; filename="findings.xlsx"`, func(w io.Writer) error {
		_, err := book.WriteTo(w)
		return err
	}), nil
}

func (s *server) writeAnnotated(ctx context.Context, w io.Writer, read tried) error {
	if f := read.files[0]; len(read.files) == 1 && bytes.HasPrefix(f.Data, []byte("PK")) {
		err := annotate.Workbook(w, f.Name, f.Data, read.result.Findings)
		if !errors.Is(err, annotate.ErrNoWorkbook) {
			return err
		}
	}
	done, err := s.turn(ctx)
	if err != nil {
		return err
	}
	defer done()
	sheets, err := importers.UploadedSheets(ctx, read.options, read.files...)
	if err != nil {
		return err
	}
	return annotate.Copy(w, sheets, read.result.Findings)
}

// overtaken is the answer where the latest revision of a plant is another one
// than a person looked at, or none is there.
func (s *server) overtaken(ctx context.Context, plant string) error {
	latest, err := s.store.Revision(ctx, plant, 0)
	if errors.Is(err, archive.ErrNotFound) {
		return problem(http.StatusConflict, "The plant has no revision yet. Look at what the files hold, then accept.")
	}
	if err != nil {
		return err
	}
	return problem(http.StatusConflict, fmt.Sprintf("Revision %d was stored meanwhile. Look at what changes against it, then accept.", latest.Number))
}
