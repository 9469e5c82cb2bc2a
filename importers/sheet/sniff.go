package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"lanewright/planner/finding"
)

// Codes of refusals for what the content is, whatever the name says.
const (
	CodeEmptyFile    = "sheet.empty-file"
	CodeOldWorkbook  = "sheet.old-workbook"
	CodeEncrypted    = "sheet.encrypted"
	CodeNotASheet    = "sheet.not-a-sheet"
	CodeNameMisleads = "sheet.name-misleads"
)

// kind is what a file is by its content.
type kind int

const (
	kindText kind = iota
	kindArchive
)

// signature is the beginning of a file that is surely no sheet.
type signature struct{ start, what string }

// signatures are the public magic numbers of formats that people rename or
// pick by mistake.
var signatures = []signature{
	{"\x89PNG", "a picture (PNG)"},
	{"\xff\xd8\xff", "a picture (JPEG)"},
	{"GIF8", "a picture (GIF)"},
	{"BM", "a picture (BMP)"},
	{"II*\x00", "a picture (TIFF)"},
	{"MM\x00*", "a picture (TIFF)"},
	{"%PDF", "a PDF document"},
	{"{\\rtf", "a text document (RTF)"},
	{"\x1f\x8b", "a gzip archive"},
	{"7z\xbc\xaf", "a 7z archive"},
	{"Rar!", "a RAR archive"},
	{"BZh", "a bzip2 archive"},
	{"\xfd7zXZ", "an xz archive"},
	{"SQLite format 3", "a database file"},
	{"\x7fELF", "a program"},
	{"MZ", "a program"},
}

// workbookEndings are the endings of workbooks' names.
var workbookEndings = []string{".xlsx", ".xlsm", ".xltx", ".xltm", ".xls", ".xlsb", ".ods"}

// compoundFile is the beginning of the container of .xls files and of
// encrypted workbooks.
const compoundFile = "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"

// sniff tells an archive from text by content and refuses everything else.
func sniff(name string, data []byte) (kind, *Refused) {
	switch {
	case len(data) == 0:
		return 0, emptyFile(name)
	case bytes.HasPrefix(data, []byte("PK")):
		return kindArchive, nil
	case bytes.HasPrefix(data, []byte(compoundFile)):
		return 0, compound(name, data)
	}
	for _, s := range signatures {
		if bytes.HasPrefix(data, []byte(s.start)) && isBinary(data) {
			return 0, notASheet(name, s.what)
		}
	}
	if hasWideMark(data) {
		return kindText, refuseMisleading(name)
	}
	if isBinary(data) {
		return 0, controlled(name, data)
	}
	if what := markup(data); what != "" {
		return 0, notASheet(name, what)
	}
	return kindText, refuseMisleading(name)
}

// isBinary reports whether the first part of data holds control characters
// that no text file has.
func isBinary(data []byte) bool {
	head := data[:min(len(data), 4096)]
	return bytes.ContainsFunc(head, func(r rune) bool {
		return r < ' ' && r != '\t' && r != '\n' && r != '\r' && r != '\f' && r != 0x1a
	})
}

// controlled says what is wrong with a file that begins with control
// characters: zero bytes between the letters of UTF-16, a few stray ones in a
// text, or no text at all.
func controlled(name string, data []byte) *Refused {
	head := data[:min(len(data), 4096)]
	at := finding.Origin{File: name}
	zeros, control, first := 0, 0, 0
	for i, b := range head {
		if b == 0 {
			zeros++
		}
		if isBinary(head[i : i+1]) {
			if control++; control == 1 {
				first = i
			}
		}
	}
	switch {
	case 10*zeros >= 4*len(head) && 10*zeros <= 6*len(head) && control == zeros:
		return unmarkedUTF16(at)
	case 20*control > len(head):
		return notASheet(name, "a file of an unknown kind, not text")
	}
	at.Row = lineOf(data, first)
	if head[first] == 0 {
		return zeroByte(at)
	}
	return &Refused{
		Code: CodeNotASheet, Origin: at,
		Summary: fmt.Sprintf("line %d holds the control character %02X, which no table has", at.Row, head[first]),
		Detail:  "Such characters are not seen and can not be kept in a workbook, so a code with one in it would be another code than the one that is read.",
		Remedy:  "Take it out with a text editor, or let the program that wrote the file leave it out.",
	}
}

// markup names the kind of text that is surely no table of delimited values.
func markup(data []byte) string {
	head := bytes.TrimLeft(bytes.TrimPrefix(data, []byte(utf8Mark)), " \t\r\n")
	low := string(bytes.ToLower(head[:min(len(head), 64)]))
	switch {
	case strings.HasPrefix(low, "%pdf"), strings.HasPrefix(low, "{\\rtf"):
		return "a document (PDF or RTF)"
	case strings.HasPrefix(low, "<?xml"), strings.HasPrefix(low, "<workbook"):
		return "an XML file"
	case strings.HasPrefix(low, "<!doctype"), strings.HasPrefix(low, "<html"), strings.HasPrefix(low, "<table"):
		return "a web page"
	case (low != "" && (low[0] == '{' || low[0] == '[')) && json.Valid(head):
		return "a JSON file"
	}
	return ""
}

// refuseMisleading refuses text under a workbook's name: it may be the
// message of a failed download as well as a table.
func refuseMisleading(name string) *Refused {
	ext := strings.ToLower(filepath.Ext(name))
	if ext != ".zip" && !slices.Contains(workbookEndings, ext) {
		return nil
	}
	return &Refused{
		Code: CodeNameMisleads, Origin: finding.Origin{File: name},
		Summary: fmt.Sprintf("the name ends in %s but the content is plain text", ext),
		Detail:  "It may be a table of comma separated values with a wrong name, or the message of a download that failed.",
		Remedy:  "Look into the file with a text editor. If it is the table, rename it to .csv; otherwise fetch the workbook again.",
	}
}

func emptyFile(name string) *Refused {
	return &Refused{
		Code: CodeEmptyFile, Origin: finding.Origin{File: name},
		Summary: "the file is empty",
		Detail:  "It has no bytes at all, as after a download or a save that failed.",
		Remedy:  "Save or fetch the file again and look at its size before handing it in.",
	}
}

func notASheet(name, what string) *Refused {
	return &Refused{
		Code: CodeNotASheet, Origin: finding.Origin{File: name},
		Summary: "this is " + what + ", not a workbook or a CSV file",
		Detail:  "The content decides what a file is, not its name. Workbooks (.xlsx, .xlsm, .ods), CSV files and folders or zip archives of CSV files can be read.",
		Remedy:  "Hand in the table itself: " + saveAsXLSX,
	}
}

// compound refuses what lies in a compound file: an encrypted workbook, whose
// stream names stand in it in UTF-16, or one of the format before 2007.
func compound(name string, data []byte) *Refused {
	if bytes.Contains(data, wide("EncryptedPackage")) {
		return encrypted(name)
	}
	return &Refused{
		Code: CodeOldWorkbook, Origin: finding.Origin{File: name},
		Summary: "this is a workbook of the format before 2007 (.xls) or another old office document",
		Detail:  "That format cannot be read without the danger of silently wrong values, so it is not read at all.",
		Remedy:  saveAsXLSX,
	}
}

func encrypted(name string) *Refused {
	return &Refused{
		Code: CodeEncrypted, Origin: finding.Origin{File: name},
		Summary: "the file is protected with a password",
		Detail:  "Nothing in it can be read without the password, and the program never asks for one.",
		Remedy:  "Open it in a spreadsheet program, remove the password, save it as .xlsx and hand in that file.",
	}
}

// wide returns an ASCII text in UTF-16, little end first.
func wide(s string) []byte {
	out := make([]byte, 0, 2*len(s))
	for i := range len(s) {
		out = append(out, s[i], 0)
	}
	return out
}
