package sheet

import "lanewright/planner/finding"

// Pages explains every code that this package raises.
func Pages() []finding.Page {
	page := func(code, title, text string) finding.Page {
		return finding.Page{Code: code, Title: title, Text: text}
	}
	return []finding.Page{
		page(CodeTooBig, "The file is too large", "Files above a limit (32 MiB unless set otherwise) are not read, so that one upload cannot harm the machine for everybody. Remove pictures and sheets that have nothing to do with the plan, or hand in the sheets as CSV files."),
		page(CodeEmptyFile, "The file has no bytes", "A download or a save failed. Save or fetch the file again and look at its size."),
		page(CodeOldWorkbook, "A workbook of the format before 2007", "Files ending in .xls keep numbers, dates and texts in a way that cannot be read without the danger of silently wrong values. Open the file in a spreadsheet program and save it as an Excel workbook (.xlsx)."),
		page(CodeBinaryWorkbook, "A binary workbook", "Files ending in .xlsb are not read, because their content cannot be checked part by part. Save the workbook as .xlsx."),
		page(CodeEncrypted, "The file is protected with a password", "Nothing in it can be read without the password, and the program never asks for one. Save a copy without a password."),
		page(CodeNotASheet, "The file is no workbook and no CSV file", "The content decides what a file is, not its name: a picture, a PDF document or a web page stays one when it is renamed. Hand in the table itself as .xlsx, .ods or CSV."),
		page(CodeOtherOffice, "A text document or a presentation", "The file comes from an office program but is no workbook. Copy the table into a spreadsheet program and save it as .xlsx."),
		page(CodeNameMisleads, "A workbook's name on plain text", "The file is named like a workbook but holds text: a CSV file with a wrong name, or the message of a download that failed. Look into it; rename it to .csv if it is the table."),
		page(CodeDamagedArchive, "The file is no whole archive", "Every .xlsx is a zip archive, and this one's table of contents is missing or broken, as after a transfer that was cut off. Fetch it again."),
		page(CodeDamagedPart, "A part of the file is damaged", "Every part carries a checksum, and the content of this one does not match it or cannot be unpacked. Rows could be missing or changed, so nothing was read. Fetch the file again, or go back to an earlier copy."),
		page(CodeBadName, "A file in the archive points outside of it", "Names with .. or a drive letter have no place in a workbook and are a known way to attack programs. Save the workbook under a new name with a spreadsheet program."),
		page(CodeDoubledEntry, "The archive holds one file twice", "Programs differ in which of the two they read, so what was checked might not be what is shown. Save the workbook under a new name with a spreadsheet program."),
		page(CodeInflatesTooFar, "The file inflates too far", "A small file that unpacks to hundreds of megabytes is made to exhaust a machine, or holds very many empty formatted cells. Delete the empty formatted rows and columns around the table and save it again."),
		page(CodeTooMany, "Too many files or sheets", "There are limits to the number of files in an archive and of sheets in a workbook, far above any plant's. Remove what does not belong to the plan."),
		page(CodeMissingPart, "A part of the workbook is missing", "The workbook refers to a sheet, a style table or a text table that is not in the file. Reading on would lose rows, so nothing was read. Go back to an earlier copy or save it anew."),
		page(CodeDoctype, "A document type declaration", "Workbooks never have one. It can make a reader fetch files or use endless memory, so the file is refused."),
		page(CodeBadXML, "The XML of a part is broken", "A tag without its end, a text cut off, an unknown character: the part does not follow the rules of XML from its first to its last byte. Rows could be missing, so nothing was read."),
		page(CodeMissingText, "A cell refers to a text that is not there", "Workbooks keep texts in one table and refer to them by number. A number beyond that table means that the table was cut or lost, and other cells may show the wrong text."),
		page(CodeBadPlace, "A row or cell stands at an impossible place", "Rows and cells must come in ascending order, each once, a cell in its own row. Where two claim one place, one of them would be lost."),
		page(CodeBadCell, "A cell is not what any workbook has", "Its type, style or value is none that the format knows, so what it shows cannot be told."),
		page(CodeNoSheets, "There is no sheet to read", "The workbook lists no sheets, or the folder or archive holds no CSV file. Put one CSV file per sheet into it, named after the sheet."),
		page(CodeDoubledSheet, "Two sheets have one name", "Which of them holds the facts cannot be told, and reading both would count rows twice. Remove one or rename it."),
		page(CodeRows, "Too many rows", "A sheet has more rows than any workbook can have. Delete stray cells below the table."),
		page(CodeColumns, "Too many columns", "A row has more columns than any workbook can have. Delete stray cells to the right; in a CSV file look for lost line ends."),
		page(CodeCells, "Too many cells", "Cells left of a filled one count too. Delete stray cells far to the right or below the table, or split the sheet."),
		page(CodeLongText, "The text of a cell is too long", "In CSV files a missing quotation mark makes one long cell out of many rows. Look for it at the place named."),
		page(CodeNotUTF8, "The text is not UTF-8", "In older encodings letters such as ä, é or ñ cannot be told apart with certainty, and a guess could change a part number. The finding shows how the line would read in each encoding; lanewright map FILE --encoding NAME writes a mapping that remembers the right one. Or save the file as \"CSV UTF-8\", or hand in the workbook as .xlsx."),
		page(CodeBadUTF16, "The text breaks off inside a character", "It begins as UTF-16, the encoding of \"Unicode text\", but is cut or damaged. Save it again."),
		page(CodeNulByte, "The text holds a zero byte", "No text has one; the file is damaged or in an encoding it does not state. Save it again as UTF-8."),
		page(CodeOpenQuote, "A quotation mark is never closed", "Everything after it would be read as the text of one cell, and all rows below would be lost. Close the mark, write it twice where it belongs to the text, or fetch a file that was cut off again."),
		page(CodeStrayQuote, "Text after a closing quotation mark", "The text before and after the mark was joined, as spreadsheet programs do. Write a quotation mark that belongs to the text twice."),
		page(CodeNotRead, "A file was passed over", "Only CSV files are read from folders and archives. If the file holds facts of the plant, save it as a CSV file named after its sheet."),
		page(CodeMacros, "The workbook holds macros", "They were ignored: only values saved in cells are read, and nothing in a file is ever run."),
		page(CodeNoTable, "A sheet without cells", "Chart, dialog and macro sheets hold no cells; only worksheets are read."),
		page(CodeStraySheet, "A sheet that no list names", "The file holds the content of a sheet that the workbook does not list, so that no program shows it. Look whether a sheet is missing."),
	}
}
