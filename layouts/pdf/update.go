package pdf

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"

	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// The library's file says nothing of boxes, layers, print scaling or an id, and
// gives the page's size to 0.01 point. An incremental update (ISO 32000-1,
// 7.5.6) appends new versions of the catalog, the pages and their resources;
// the bytes before it stay untouched.

// Objects of the skeleton with a fixed number.
const (
	catalogID  = 1
	pageTreeID = 2
)

// xref is the skeleton's table of objects.
type xref struct {
	start   int   // where the table begins
	offsets []int // where object n begins; offsets[0] is unused
}

var tableRow = regexp.MustCompile(`(?m)^(\d{10}) 00000 n `)

func readXref(file []byte) (xref, error) {
	broken := fault.New(fault.Ours, "", "the PDF library wrote a file without a table of objects", "")
	const mark = "startxref\n"
	i := bytes.LastIndex(file, []byte(mark))
	if i < 0 {
		return xref{}, broken
	}
	text, _, _ := strings.Cut(string(file[i+len(mark):]), "\n")
	start, err := strconv.Atoi(text)
	if err != nil || start >= i {
		return xref{}, broken
	}
	x := xref{start: start, offsets: []int{0}}
	for _, m := range tableRow.FindAllSubmatch(file[start:i], -1) {
		at, err := strconv.Atoi(string(m[1]))
		if err != nil || at >= start {
			return xref{}, broken
		}
		x.offsets = append(x.offsets, at)
	}
	return x, nil
}

// object returns the body of an object of the skeleton, nil if there is none.
func (x xref) object(file []byte, id int) []byte {
	if id < 1 || id >= len(x.offsets) {
		return nil
	}
	end := x.start
	for _, at := range x.offsets[1:] {
		if at > x.offsets[id] && at < end {
			end = at
		}
	}
	body := bytes.TrimSpace(file[x.offsets[id]:end])
	return bytes.TrimSpace(bytes.TrimSuffix(bytes.TrimPrefix(body, fmt.Appendf(nil, "%d 0 obj", id)), []byte("endobj")))
}

var (
	contentsRef  = regexp.MustCompile(`/Contents\s+(\d+) 0 R`)
	resourcesRef = regexp.MustCompile(`/Resources\s+(\d+) 0 R`)
	kidRef       = regexp.MustCompile(`(\d+) 0 R`)
	kidsList     = regexp.MustCompile(`/Kids\s*\[([^\]]*)\]`)
)

// update appends what the skeleton lacks.
func update(base []byte, doc draw.Document, pages []page) ([]byte, error) {
	x, err := readXref(base)
	if err != nil {
		return nil, err
	}
	strange := fault.New(fault.Ours, "", "the PDF library wrote a page tree of an unknown form", "")
	var kids [][][]byte
	if m := kidsList.FindSubmatch(x.object(base, pageTreeID)); m != nil {
		kids = kidRef.FindAllSubmatch(m[1], -1)
	}
	if len(kids) != len(pages) {
		return nil, strange
	}
	u := &appendix{file: bytes.NewBuffer(bytes.Clone(base)), next: len(x.offsets), at: map[int]int{}}
	groups := u.layers(pages)
	resources := 0
	for i, p := range pages {
		id, _ := strconv.Atoi(string(kids[i][1]))
		old := x.object(base, id)
		c, r := contentsRef.FindSubmatch(old), resourcesRef.FindSubmatch(old)
		if c == nil || r == nil {
			return nil, strange
		}
		resources, _ = strconv.Atoi(string(r[1]))
		box := fmt.Sprintf("[0 0 %s %s]", number(points(p.w), pointDecimals), number(points(p.h), pointDecimals))
		u.put(id, fmt.Sprintf("<< /Type /Page /Parent %d 0 R /Resources %s 0 R /Contents %s 0 R /MediaBox %s /TrimBox %s /BleedBox %s >>",
			pageTreeID, r[1], c[1], box, box, box))
	}
	// The pages share one resource dictionary; the layers' names join it.
	if rest, ok := bytes.CutPrefix(x.object(base, resources), []byte("<<")); ok {
		u.put(resources, "<< /Properties << "+groups.names+">>"+string(rest))
	} else {
		return nil, strange
	}
	u.put(catalogID, fmt.Sprintf("<< /Type /Catalog /Pages %d 0 R /ViewerPreferences << /PrintScaling /None >>%s >>", pageTreeID, groups.catalog))
	info := u.add(information(doc))
	u.trailer(x.start, info)
	return u.file.Bytes(), nil
}

// layerGroups is what catalog and resources say of the layers.
type layerGroups struct{ names, catalog string }

// layers adds an optional content group for each layer in use: all shown, all
// printed, in painting order.
func (u *appendix) layers(pages []page) layerGroups {
	used := map[draw.Layer]bool{}
	for _, p := range pages {
		for _, l := range p.layers {
			used[l] = true
		}
	}
	var names, refs strings.Builder
	for _, l := range draw.Layers() {
		if used[l] {
			id := u.add(fmt.Sprintf("<< /Type /OCG /Name (%s) >>", l))
			fmt.Fprintf(&names, "/%s %d 0 R ", property(l), id)
			fmt.Fprintf(&refs, "%d 0 R ", id)
		}
	}
	if refs.Len() == 0 {
		return layerGroups{}
	}
	list := "[" + strings.TrimSpace(refs.String()) + "]"
	return layerGroups{names: names.String(), catalog: fmt.Sprintf(" /OCProperties << /OCGs %s /D << /Name (layers) /BaseState /ON /Order %s >> >>", list, list)}
}

// information is the document's info dictionary; the date is the batch's, never
// the clock's.
func information(doc draw.Document) string {
	var b strings.Builder
	b.WriteString("<< /Producer (floatmark)")
	for _, e := range []struct{ key, text string }{{"Title", doc.Title}, {"Author", doc.Author}, {"Subject", doc.Subject}} {
		if e.text != "" {
			fmt.Fprintf(&b, " /%s <FEFF", e.key)
			for _, c := range utf16.Encode([]rune(e.text)) {
				fmt.Fprintf(&b, "%04X", c)
			}
			b.WriteString(">")
		}
	}
	if doc.Date != "" {
		fmt.Fprintf(&b, " /CreationDate (D:%s)", strings.ReplaceAll(doc.Date, "-", ""))
	}
	b.WriteString(" >>")
	return b.String()
}

// appendix is the update under way.
type appendix struct {
	file  *bytes.Buffer
	next  int // first free object number
	order []int
	at    map[int]int
}

func (u *appendix) put(id int, body string) {
	u.at[id], u.order = u.file.Len(), append(u.order, id)
	fmt.Fprintf(u.file, "%d 0 obj\n%s\nendobj\n", id, body)
}

func (u *appendix) add(body string) int {
	u.next++
	u.put(u.next-1, body)
	return u.next - 1
}

// trailer closes the update. The id is a hash of every byte before it.
func (u *appendix) trailer(previous, info int) {
	id := sha256.Sum256(u.file.Bytes())
	start := u.file.Len()
	u.file.WriteString("xref\n")
	slices.Sort(u.order)
	for _, n := range u.order {
		fmt.Fprintf(u.file, "%d 1\n%010d 00000 n \n", n, u.at[n])
	}
	fmt.Fprintf(u.file, "trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R /Prev %d /ID [<%X> <%X>] >>\nstartxref\n%d\n%%%%EOF\n",
		u.next, catalogID, info, previous, id[:16], id[:16], start)
}
