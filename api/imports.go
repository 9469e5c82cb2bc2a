package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"path"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/wire"
	"lanewright/importers"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

const (
	// fileLimit is the largest file that is taken.
	fileLimit = 32 << 20
	// importsAtOnce bounds the memory that reading files may need.
	importsAtOnce = 2
)

type importInput struct {
	PlantInput
	DryRun      bool   `query:"dry_run" doc:"read and check only, store nothing"`
	LeaveOut    bool   `query:"leave_out" doc:"store the right rows and leave out those that are reported; otherwise an error stores nothing"`
	Name        string `query:"name" maxLength:"200" doc:"file name, for a body that is the file itself"`
	ContentType string `header:"Content-Type"`
	RawBody     []byte
}

type importOutput struct {
	Status   int
	Location string `header:"Location"`
	Body     wire.Import
}

// importFile reads a file and stores its facts as a revision of the plant. A
// file with errors is refused with all its findings.
func (s *server) importFile(ctx context.Context, in *importInput) (*importOutput, error) {
	if err := archive.CheckName(in.Plant); err != nil {
		return nil, badName(err)
	}
	name, data, err := in.file()
	if err != nil {
		return nil, err
	}
	read, err := s.readFile(ctx, name, data)
	if err != nil {
		return nil, err
	}
	if read.Findings.HasErrors() && (!in.LeaveOut || usedRows(read) == 0) {
		return nil, refused(read)
	}
	out := found(in, read)
	if in.DryRun {
		return out, nil
	}
	rev, created, err := s.store.SaveRevision(ctx, in.Plant, &read.Plant, out.Body.Revision, ledger(read), read.Findings)
	if err != nil {
		return nil, fmt.Errorf("store the facts of %s: %w", in.Plant, err)
	}
	out.Body.Stored, out.Body.RevisionNumber = created, rev.Number
	out.Location = fmt.Sprintf("/api/v1/plants/%s/revisions/%d", url.PathEscape(in.Plant), rev.Number)
	if created {
		out.Status = http.StatusCreated
	}
	return out, nil
}

// readFile reads one file; only few are read at once.
func (s *server) readFile(ctx context.Context, name string, data []byte) (*importers.Result, error) {
	select {
	case s.importing <- struct{}{}:
		defer func() { <-s.importing }()
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
	read, err := importers.ReadBytes(ctx, name, data)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	return read, nil
}

// refused is the answer to a file with errors: nothing of it was stored.
func refused(read *importers.Result) error {
	n := read.Findings.Count(finding.Error)
	p := problem(http.StatusUnprocessableEntity, fmt.Sprintf("The file has %s, so nothing was stored. Each finding says where and how to repair it.", counted(n, "error")))
	p.Sheets, p.Findings = wire.NewSheets(ledger(read)), wire.NewFindings(read.Findings)
	return p
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// found says what a file holds.
func found(in *importInput, read *importers.Result) *importOutput {
	f := read.Findings
	return &importOutput{Status: http.StatusOK, Body: wire.Import{
		Plant: in.Plant, DryRun: in.DryRun, Revision: plant.Revision(&read.Plant),
		Sheets: wire.NewSheets(ledger(read)), Facts: wire.CountFacts(&read.Plant),
		Errors: f.Count(finding.Error), Warnings: f.Count(finding.Warning), Notes: f.Count(finding.Note),
		Findings: wire.NewFindings(f),
	}}
}

func ledger(read *importers.Result) []archive.SheetCount {
	out := make([]archive.SheetCount, len(read.Sheets))
	for i, s := range read.Sheets {
		out[i] = archive.SheetCount{File: s.File, Sheet: s.Sheet, Rows: s.Rows, Used: s.Used, Reported: s.Reported, Skipped: s.Skipped}
	}
	return out
}

// usedRows counts the rows that became facts.
func usedRows(read *importers.Result) int {
	n := 0
	for _, s := range read.Sheets {
		n += s.Used
	}
	return n
}

func badName(err error) error {
	p := problem(http.StatusUnprocessableEntity, asSentence(err.Error()))
	p.Errors = []wire.BadField{{Message: "not a plant's name", Location: "path.plant"}}
	return p
}

// fileTypes are the media types a file may be sent as, with the ending its
// name gets where it has none. Programs that send a file as it is may call it
// a form.
var fileTypes = map[string]string{
	"":                                  "",
	"application/octet-stream":          "",
	"application/x-www-form-urlencoded": "",
	xlsx:                                ".xlsx",
	"application/zip":                   ".zip",
	"application/x-zip-compressed":      ".zip",
	"text/csv":                          ".csv",
	"application/vnd.ms-excel":          "",
	"application/vnd.oasis.opendocument.spreadsheet": ".ods",
}

// file returns the file of a request and its name: the body, or the one file
// of a form.
func (in *importInput) file() (name string, data []byte, err error) {
	mediaType, params, err := mime.ParseMediaType(in.ContentType)
	if in.ContentType != "" && err != nil {
		return "", nil, problem(http.StatusUnsupportedMediaType, sentences[http.StatusUnsupportedMediaType])
	}
	if mediaType == "multipart/form-data" {
		return onlyFile(multipart.NewReader(bytes.NewReader(in.RawBody), params["boundary"]))
	}
	ending, ok := fileTypes[mediaType]
	if !ok {
		return "", nil, problem(http.StatusUnsupportedMediaType, "Send a workbook (.xlsx), a CSV file or a zip of CSV files: as the body, or as the file of a form (multipart/form-data).")
	}
	name = base(in.Name)
	if name == "" {
		name = "upload" + ending
	}
	return name, in.RawBody, nil
}

// onlyFile takes the file out of a form. A second one is refused: a file that
// nobody reads would be lost in silence.
func onlyFile(form *multipart.Reader) (name string, data []byte, err error) {
	files := 0
	for {
		part, err := form.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return "", nil, problem(http.StatusBadRequest, "The form can not be read to its end.")
		}
		if part.FileName() == "" {
			continue
		}
		if files++; files > 1 {
			return "", nil, problem(http.StatusUnprocessableEntity, "The form has more than one file. Hand in one workbook, or a zip of all CSV files.")
		}
		if data, err = io.ReadAll(part); err != nil {
			return "", nil, problem(http.StatusBadRequest, "The form can not be read to its end.")
		}
		name = base(part.FileName())
	}
	if files == 0 {
		return "", nil, problem(http.StatusUnprocessableEntity, "The form has no file.")
	}
	return name, data, nil
}

// base cuts the folders off a name, whatever machine it comes from.
func base(name string) string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	if name == "." || name == "/" {
		return ""
	}
	return name
}

// describeImport completes what the OpenAPI document says of an import.
func (s *server) describeImport(op *huma.Operation) {
	op.Description = "The body is the file: a workbook (.xlsx), a flat CSV, or a zip of CSV files; or a form with one file. " +
		"Errors in the file answer 422 with all findings, and nothing is stored. A dry run answers the same and stores nothing."
	file := &huma.Schema{Type: "string", Format: "binary"}
	op.RequestBody.Content["multipart/form-data"] = &huma.MediaType{Schema: &huma.Schema{
		Type: "object", Properties: map[string]*huma.Schema{"file": file}, Required: []string{"file"},
	}}
	op.Responses["201"] = &huma.Response{Description: "Stored as a new revision", Content: op.Responses["200"].Content}
	op.Responses["200"].Description = "A dry run, or the same facts were stored before"
}
