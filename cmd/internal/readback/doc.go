// Package readback reads what the writers wrote with programs that are not
// ours: PDFium opens the PDF, tells its sizes and text, and draws it.
//
// It holds tests only. They are in one package because PDFium (as WebAssembly,
// no system library) costs seconds to start: TestMain starts it once, with what
// it compiled kept in the user's cache folder from run to run. The reader for
// the tests is in reader_test.go; lengths there are millimetres, origin top
// left, y down, as in the drawing list.
package readback
