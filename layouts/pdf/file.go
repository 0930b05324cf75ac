package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"hash"
	"io"
	"slices"
)

// file is the PDF as objects; the first error of its writer stays in err.
type file struct {
	w    io.Writer
	sum  hash.Hash // of every byte so far
	n    int       // bytes so far
	at   []int     // where object n begins; 0: not written
	err  error
	z    *zlib.Writer
	pack bytes.Buffer
}

func (f *file) bytes(b []byte) {
	if f.err != nil {
		return
	}
	f.sum.Write(b)
	n, err := f.w.Write(b)
	if err == nil && n < len(b) {
		err = io.ErrShortWrite
	}
	f.n, f.err = f.n+n, err
}

func (f *file) text(format string, args ...any) { f.bytes(fmt.Appendf(nil, format, args...)) }

// put writes an object whose number is known.
func (f *file) put(id int, body string) {
	f.at[id] = f.n
	f.text("%d 0 obj\n%s\nendobj\n", id, body)
}

// add writes an object under the next number and returns it.
func (f *file) add(body string) int {
	id := f.reserve()
	f.put(id, body)
	return id
}

func (f *file) reserve() int {
	f.at = append(f.at, 0)
	return len(f.at) - 1
}

// stream adds a packed stream; dict are further entries of its dictionary.
func (f *file) stream(dict string, body []byte) int {
	f.pack.Reset()
	if f.z == nil {
		f.z = zlib.NewWriter(&f.pack)
	} else {
		f.z.Reset(&f.pack)
	}
	// A buffer takes everything, so there is no error to look at.
	_, _ = f.z.Write(body)
	_ = f.z.Close()
	id := f.reserve()
	f.at[id] = f.n
	f.text("%d 0 obj\n<< %s/Filter /FlateDecode /Length %d >>\nstream\n", id, dict, f.pack.Len())
	f.bytes(f.pack.Bytes())
	f.text("\nendstream\nendobj\n")
	return id
}

// trailer ends the file with its table of objects. The id is a hash of every
// byte before the table.
func (f *file) trailer(info int) {
	id := f.sum.Sum(nil)[:16]
	start := f.n
	table := slices.Grow([]byte(nil), 20*len(f.at)+200)
	table = fmt.Appendf(table, "xref\n0 %d\n0000000000 65535 f \n", len(f.at))
	for _, at := range f.at[1:] {
		table = fmt.Appendf(table, "%010d 00000 n \n", at)
	}
	f.bytes(fmt.Appendf(table, "trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R /ID [<%X> <%X>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(f.at), catalogID, info, id, id, start))
}
