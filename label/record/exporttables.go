package record

// ExportFormat is the version of the export. It grows when a reader of the last
// one would not understand it; tables and members that are added do not count.
const ExportFormat = 1

// columnKind is how a column stands in an export.
type columnKind int

const (
	textColumn   columnKind = iota // a string
	numberColumn                   // a whole number
	jsonColumn                     // JSON as it is; left out where there is none
	maybeText                      // a string, left out where it is NULL
	maybeNumber                    // a whole number, left out where it is NULL
)

type exportColumn struct {
	name string
	kind columnKind
}

// exportTable is one table of the export. The first keys columns tell its rows
// apart.
type exportTable struct {
	name    string
	keys    int
	columns []exportColumn
}

func text(name string) exportColumn   { return exportColumn{name, textColumn} }
func number(name string) exportColumn { return exportColumn{name, numberColumn} }
func jsonOf(name string) exportColumn { return exportColumn{name, jsonColumn} }

// orNone reports columns that may be NULL.
func (c exportColumn) orNone() bool { return c.kind == maybeText || c.kind == maybeNumber }

// isNumber reports columns of whole numbers.
func (c exportColumn) isNumber() bool { return c.kind == numberColumn || c.kind == maybeNumber }

// exportTables lists the tables in the order of an export: what others belong to
// comes first. What follows from them (states, the search) is not in it. The bytes
// of photographs are files of their own.
func exportTables() []exportTable {
	return []exportTable{
		{name: "settings", keys: 1, columns: []exportColumn{text("name"), text("value")}},
		{name: "floats", keys: 1, columns: []exportColumn{number("seq"), text("id"), text("batch"), number("number"), number("attempt")}},
		{name: "float_versions", keys: 2, columns: []exportColumn{number("float"), number("version"), text("pattern"), text("created"), jsonOf("data")}},
		{name: "prints", keys: 1, columns: []exportColumn{number("seq"), text("key"), number("run"), text("batch"), text("made"), jsonOf("data")}},
		{name: "print_states", keys: 2, columns: []exportColumn{number("print"), number("step"), text("state"), text("at")}},
		{name: "print_files", keys: 2, columns: []exportColumn{number("print"), text("name"), text("sha256")}},
		{name: "regions", keys: 1, columns: []exportColumn{number("seq"), number("print"), text("sheet"), text("stock"), jsonOf("data")}},
		{name: "readings", keys: 1, columns: []exportColumn{number("seq"), text("key"), text("batch"), number("number"), text("made"), jsonOf("data")}},
		{name: "film_limits", keys: 1, columns: []exportColumn{number("seq"), text("stock"), text("made"), jsonOf("data")}},
		{name: "printers", keys: 1, columns: []exportColumn{number("seq"), text("name"), text("made"), jsonOf("data")}},
		{name: "sheets", keys: 1, columns: []exportColumn{number("number"), text("stock"), text("feed"), text("made")}},
		{name: "sheet_events", keys: 2, columns: []exportColumn{number("sheet"), number("version"), text("what"), exportColumn{"print", maybeNumber}, text("note"), text("at"), jsonOf("data")}},
		{name: "float_figures", keys: 2, columns: []exportColumn{number("float"), number("print"), text("figures")}},
		{name: "spares", keys: 1, columns: []exportColumn{number("seq"), text("id"), text("batch"), number("number"), number("attempt")}},
		{name: "spare_prints", keys: 2, columns: []exportColumn{number("spare"), number("print"), text("pattern"), text("figures"), jsonOf("data")}},
		{name: "spare_claims", keys: 1, columns: []exportColumn{number("spare"), number("float"), text("at")}},
		{name: "mark_moves", keys: 1, columns: []exportColumn{number("seq"), text("stock"), text("pattern"), text("figures"), number("change"), exportColumn{"print", maybeNumber}, text("note"), text("at")}},
		{name: "ticks", keys: 1, columns: []exportColumn{number("seq"), text("id"), text("step"), text("at"), jsonOf("data")}},
		{name: "code_sizes", keys: 1, columns: []exportColumn{number("seq"), text("made"), jsonOf("data")}},
		{name: "photos", keys: 1, columns: []exportColumn{number("seq"), text("sha256"), number("width"), number("height"), text("at")}},
		{name: "change_sets", keys: 1, columns: []exportColumn{number("seq"), text("at"), text("by"), exportColumn{"key", maybeText}, text("digest")}},
		{name: "changes", keys: 1, columns: []exportColumn{number("seq"), number("set"), text("kind"), text("key"), text("path"), jsonOf("before"), jsonOf("after")}},
	}
}

// derived reports tables that follow from the others, or are the search's own.
func derived(table string) bool {
	return table == "states" || len(table) > 7 && table[:7] == "search_"
}
