"""Makes the files of this folder. The libraries imported below write the workbooks; a desktop spreadsheet converted them
once more, by hand: awkward.xlsx to awkward-office.ods and .xlsx, same.xlsx to same-office.ods, same.ods to
same-office.xlsx. Run from this folder: python3 make.py. The words are invented."""
import csv, datetime
import openpyxl
from openpyxl.styles import Font
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableRow, TableCell, CoveredTableCell
from odf.text import P

# One schedule, in four kinds of file. Every cell is the text a person sees.
HEADINGS = ["Mark", "Qty", "Location", "Kind", "Nominal length", "Barrel", "Wall", "Supply", "Backflow device"]
ROWS = [
    ["HB-1", "12", "North wall", "sillcock", '8"', "brass", "rim-joist-batt", "copper", "none"],
    ["HB-2", "6", "Garage", "frostproof wall hydrant", "12 in", "stainless", "2x6-siding", "PEX", "integral vacuum breaker"],
    ["HB-4", "3", "South wall", '"', '10"', "copper", '"', "CPVC", "TBD"],
    ["HB-3", "4", "Rear yard", "Same as HB-2", "", "", "", "", ""],
    ["HB-5", "2", "Pool house", "sillcock", "ten", "brass", "rim-joist-batt", "copper", "none"],
    ["HB-6 (DELETED)", "", "Shed", "sillcock", '8"', "brass", "", "", ""],
    ["TOTAL", "27", "", "", "", "", "", "", ""],
]

def same():
    with open("same.csv", "w", newline="", encoding="utf-8") as out:
        csv.writer(out, lineterminator="\n").writerows([HEADINGS] + ROWS)
    # A number with its inch mark by format in the workbooks, a text in the others.
    inches = lambda text: int(text[:-1]) if text.endswith('"') and text[:-1].isdigit() else None
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Outlets"
    sheet.append(HEADINGS)
    for row in ROWS:
        sheet.append([int(it) if it.isdigit() else it or None for it in row])
        cell = sheet.cell(sheet.max_row, 5)
        if inches(row[4]):
            cell.value, cell.number_format = inches(row[4]), '0\\"'
    book.save("same.xlsx")
    document = OpenDocumentSpreadsheet()
    table = Table(name="Outlets")
    for row in [HEADINGS] + ROWS:
        line = TableRow()
        for it in row:
            if it.isdigit():
                cell = TableCell(valuetype="float", value=it)
            elif it:
                cell = TableCell(valuetype="string")
            else:
                cell = TableCell()
            if it:
                cell.addElement(P(text=it))
            line.addElement(cell)
        table.addElement(line)
    document.spreadsheet.addElement(table)
    document.save("same.ods")
    with open("same.yaml", "w", encoding="utf-8") as out:
        out.write("outlets:\n")
        for row in ROWS:
            for at, (key, it) in enumerate((k, v) for k, v in zip(HEADINGS, row) if v):
                quoted = "'" + it.replace("'", "''") + "'"
                out.write(("  - " if at == 0 else "    ") + f"{key}: {quoted}\n")

def awkward():
    book = openpyxl.Workbook()
    cover = book.active
    cover.title = "Cover"
    cover["A1"] = "Kestrel Ridge, plumbing"
    sheet = book.create_sheet("Plumbing")
    sheet["A1"] = "OUTDOOR WATER OUTLET SCHEDULE"
    sheet.merge_cells("A1:H1")
    top = ["Mark", "Qty", "Kind", "Barrel", None, "Supply", None, "Slope"]
    low = [None, None, None, "material", "length", "material", "size", None]
    for at, (a, b) in enumerate(zip(top, low), 1):
        sheet.cell(3, at, a), sheet.cell(4, at, b)
    for ref in ["A3:A4", "B3:B4", "C3:C4", "D3:E3", "F3:G3", "H3:H4"]:
        sheet.merge_cells(ref)
    for at, unit in enumerate([None, None, None, None, "in", None, "in", "%"], 1):
        sheet.cell(5, at, unit)
    rows = [
        ["HB-1", 2, "sillcock", "brass", 8.25, "copper", datetime.date(2026, 3, 4), 0.02],
        [None, 3, "sillcock", "brass", 10, "copper", 0.5, 0.02],
        ["HB-3", 1, "sillcock", "brass", "=5+5", "copper", 0.5, 0.02],
        ["HB-4", 1, "sillcock", "#REF!", "12", "copper", 0.75, 0.02],
        ["HB-5", 4, "sillcock", "brass", 12, "copper", 0.5, 0.02],
        ["HB-6", 4, "sillcock", "brass", 12, "copper", 0.5, 0.02],
        ["HB-7", 4, "sillcock", "brass", 12, "copper", 0.5, 0.02],
        ["Subtotal", 19],
        ["Notes:"],
        ["1. Verify lengths in the field before ordering."],
    ]
    for number, row in enumerate(rows, 6):
        for at, it in enumerate(row, 1):
            sheet.cell(number, at, it)
        if len(row) > 2:
            sheet.cell(number, 5).number_format = "0"
            sheet.cell(number, 7).number_format = "d-mmm" if number == 6 else "# ?/?"
            sheet.cell(number, 8).number_format = "0.0%"
    sheet.merge_cells("A6:A7")
    sheet.row_dimensions[10].hidden = True
    for cell in sheet[11]:
        cell.font = Font(strike=True)
    sheet.cell(12, 4).font = Font(strike=True)
    key = book.create_sheet("Key")
    key.append(["Mark", "Notes"])
    key.append(["HB", "hose bibb"])
    old = book.create_sheet("Old")
    old.sheet_state = "hidden"
    old.append(["Mark", "Qty", "Kind"])
    old.append(["HB-9", 1, "sillcock"])
    book.save("awkward.xlsx")

def encodings():
    rows = "Mark,Location,Nominal length\r\nHB-1,Café wall,8 in\r\n"
    for name, encoding in [("utf-16-le.csv", "utf-16-le"), ("utf-16-be.csv", "utf-16-be")]:
        with open(name, "wb") as out:
            out.write("\ufeff".encode(encoding) + rows.encode(encoding))
    with open("windows-1252.csv", "wb") as out:
        out.write(rows.encode("cp1252"))
    with open("comma.csv", "wb") as out:
        out.write(b"\xef\xbb\xbf" + "Mark;Nominal length (in);Supply run (in);Location\r\nHB-1;8,5;1,500;North\r\nHB-2;10;24;South\r\n".encode())

same(), awkward(), encodings()
