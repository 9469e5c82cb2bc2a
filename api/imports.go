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
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/wire"
	"lanewright/importers"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

const (
	// fileLimit is how much the files of a request may have together, formLimit
	// what a form may have around them and for a mapping.
	fileLimit = 32 << 20
	formLimit = fileLimit + 2<<20
	// importsAtOnce bounds the memory that reading files may need.
	importsAtOnce = 2
)

// FileInput is a file that is handed in, alone or with others in a form. It is exported,
// as PlantInput is, for the description of the API.
type FileInput struct {
	PlantInput
	Name        string `query:"name" maxLength:"200" doc:"file name, for a body that is the file itself"`
	Encoding    string `query:"encoding" doc:"encoding of texts that are not UTF-8: windows-1252, windows-1250, iso-8859-15, macintosh or ibm850"`
	ContentType string `header:"Content-Type"`
	RawBody     []byte
}

type importInput struct {
	FileInput
	DryRun   bool `query:"dry_run" doc:"read, check and compare only, store nothing"`
	LeaveOut bool `query:"leave_out" doc:"store the right rows and leave out those that are reported; otherwise an error stores nothing"`
	Onto     int  `query:"onto" minimum:"-1" doc:"take the sheets that the files leave out from this revision; -1 is the latest, 0 none"`
	Against  int  `query:"against" minimum:"-1" default:"-1" doc:"refuse with 409 unless this is the latest revision when the facts are stored, 0 none yet; -1 whatever is there or, with onto=-1, the revision that the files came onto"`
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
	h, err := in.handedIn()
	if err != nil {
		return nil, err
	}
	o, base, err := s.known(ctx, &in.FileInput, h, in.Onto, true)
	if err != nil {
		return nil, err
	}
	read, err := s.readFiles(ctx, o, h.files)
	if err != nil {
		return nil, err
	}
	if read.Findings.HasErrors() && (!in.LeaveOut || usedRows(read) == 0) {
		return nil, refused(read)
	}
	out := found(in, read)
	if out.Body.Changes, err = s.changes(ctx, in.Plant, &read.Plant); err != nil {
		return nil, err
	}
	if in.DryRun {
		return out, nil
	}
	after := in.Against
	if after == archive.AnyRevision && in.Onto == archive.AnyRevision {
		after = base // sheets that others bring meanwhile must not be lost
	}
	rev, created, err := s.store.SaveRevisionAfter(ctx, in.Plant, after, &read.Plant, out.Body.Revision, ledger(read), read.Findings)
	if errors.Is(err, archive.ErrStale) {
		return nil, s.overtaken(ctx, in.Plant)
	}
	if err != nil {
		return nil, fmt.Errorf("store the facts of %s: %w", in.Plant, err)
	}
	if err := s.remember(ctx, in.Plant, o, read); err != nil {
		return nil, err
	}
	out.Body.Stored, out.Body.RevisionNumber = created, rev.Number
	out.Location = fmt.Sprintf("/api/v1/plants/%s/revisions/%d", url.PathEscape(in.Plant), rev.Number)
	if created {
		out.Status = http.StatusCreated
	}
	return out, nil
}

// readFiles reads files as one plant; only few are read at once.
func (s *server) readFiles(ctx context.Context, o importers.Options, files []importers.Upload) (*importers.Result, error) {
	done, err := s.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	read, err := importers.ReadUploads(ctx, o, files...)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", files[0].Name, err)
	}
	return read, nil
}

// turn waits until a file may be read; done lets the next one in.
func (s *server) turn(ctx context.Context) (done func(), err error) {
	select {
	case s.importing <- struct{}{}:
		return func() { <-s.importing }, nil
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
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
		Findings: wire.NewFindings(f), Mapping: shapeOf(read),
	}}
}

// shapeOf names the mapping that the file was read by, or nothing.
func shapeOf(read *importers.Result) string {
	if read.Used == nil {
		return ""
	}
	return read.Used.Shape()
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

// handedIn is what came with a request: files and, in a form, the text of a
// mapping.
type handedIn struct {
	files   []importers.Upload
	mapping string
}

// name is that of the first file.
func (h handedIn) name() string { return h.files[0].Name }

// handedIn returns the files of a request: the body, or those of a form.
func (in *FileInput) handedIn() (handedIn, error) {
	mediaType, params, err := mime.ParseMediaType(in.ContentType)
	if in.ContentType != "" && err != nil {
		return handedIn{}, problem(http.StatusUnsupportedMediaType, sentences[http.StatusUnsupportedMediaType])
	}
	if mediaType == "multipart/form-data" {
		return filesOf(multipart.NewReader(bytes.NewReader(in.RawBody), params["boundary"]))
	}
	ending, ok := fileTypes[mediaType]
	if !ok {
		return handedIn{}, problem(http.StatusUnsupportedMediaType, "Send a workbook (.xlsx, .ods), a CSV file or a zip of CSV files: as the body, or as files of a form (multipart/form-data).")
	}
	name := base(in.Name)
	if name == "" {
		name = "upload" + ending
	}
	if len(in.RawBody) > fileLimit {
		return handedIn{}, problem(http.StatusRequestEntityTooLarge, sentences[http.StatusRequestEntityTooLarge])
	}
	return handedIn{files: []importers.Upload{{Name: name, Data: in.RawBody}}}, nil
}

// filesOf takes the files, and the text of a mapping where there is one, out
// of a form. Two files of one name are refused: nobody could tell which one a
// finding is about.
func filesOf(form *multipart.Reader) (h handedIn, err error) {
	total := 0
	for {
		part, err := form.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return h, problem(http.StatusBadRequest, "The form can not be read to its end.")
		}
		if part.FileName() == "" && part.FormName() != "mapping" {
			continue
		}
		data, err := io.ReadAll(part)
		if err != nil {
			return h, problem(http.StatusBadRequest, "The form can not be read to its end.")
		}
		if part.FormName() == "mapping" {
			h.mapping = string(data)
			continue
		}
		name := base(part.FileName())
		if slices.ContainsFunc(h.files, func(f importers.Upload) bool { return f.Name == name }) {
			return h, problem(http.StatusUnprocessableEntity, "The form has two files of the name "+name+". Rename one of them.")
		}
		if total += len(data); total > fileLimit {
			return h, problem(http.StatusRequestEntityTooLarge, sentences[http.StatusRequestEntityTooLarge])
		}
		h.files = append(h.files, importers.Upload{Name: name, Data: data})
	}
	if len(h.files) == 0 {
		return h, problem(http.StatusUnprocessableEntity, "The form has no file.")
	}
	return h, nil
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
	s.describeUpload(op)
	op.Description = "The body is the file: a workbook (.xlsx, .ods), a flat CSV, or a zip of CSV files; or a form with one or more of them, read as one plant, and, where needed, the text of a mapping. " +
		"A mapping that the plant has for files of this shape is used by itself; one that is given is kept. " +
		"Errors in the file answer 422 with all findings, and nothing is stored. A dry run answers the same and stores nothing; changes says what differs from the latest revision."
	op.Responses["201"] = &huma.Response{Description: "Stored as a new revision", Content: op.Responses["200"].Content}
	op.Responses["200"].Description = "A dry run, or the same facts were stored before"
}

// describeUpload says that a body is a file or a form with some.
func (s *server) describeUpload(op *huma.Operation) {
	op.Description = "The body is the file, or a form with one or more files and, where there is one, the text of a mapping to go on from. Nothing is stored."
	op.RequestBody.Content["multipart/form-data"] = &huma.MediaType{Schema: &huma.Schema{
		Type: "object", Properties: map[string]*huma.Schema{"file": {Type: "string", Format: "binary"}, "mapping": {Type: "string"}}, Required: []string{"file"},
	}}
}
