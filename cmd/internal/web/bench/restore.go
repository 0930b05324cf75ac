package bench

import (
	"cmp"
	"context"
	"errors"
	"net/http"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) restorePages() []route {
	return []route{
		s.get("records/restore", s.restoring),
		s.post("records/restore", s.receive),
		s.post("records/restore/do", s.restore),
		s.post("records/restore/away", s.putAway),
		s.get("records/restore/state", func(w http.ResponseWriter, r *http.Request) error { return s.sendState(w, r, s.works.of(restoreKey)) }),
	}
}

const restoreKey = "restore"

// MostBodyOf is the most bytes of a form that is sent to a path: a copy of the
// records may be as large as they are.
func MostBodyOf(path string) int64 {
	if path == Path+"records/restore" {
		return job.MostReceived + MostBody // what stands round the file in the form
	}
	return MostBody
}

// restorePage is a copy that was sent, against what there is.
type restorePage struct {
	Work     *workState
	Got      *job.Received // nil before one is sent
	Size     string
	Latest   string // of the copy
	Mine     job.Contents
	MyLatest string
	Rows     []heldShown
	Lost     bool // the record has what the copy lacks
	Restored *job.BackupDone
	Kept     string // name of the record that was there before
	Imported *job.ImportDone
}

// heldShown is a batch as the record and the copy hold it.
type heldShown struct {
	Batch             string
	Here, There       bool
	Floats, ThereHas  int // here, and in the copy
	Latest, ThereLast string
}

func (s *server) restoring(w http.ResponseWriter, r *http.Request) error {
	return s.showRestore(w, r, http.StatusOK, nil)
}

func (s *server) showRestore(w http.ResponseWriter, r *http.Request, status int, found []finding) error {
	f := frame{Title: "Restore a copy", Findings: found}
	p := restorePage{}
	here := Path + "records/restore"
	if one := s.works.of(restoreKey); one != nil {
		if state := s.stateOf(r, one); state.Running {
			state.Now, state.Here = here+"/state", here
			p.Work = &state
		} else {
			result, _, err := one.outcome()
			if err != nil {
				s.works.drop(restoreKey) // told once; what went well is told until another copy is chosen
				f.Findings, status = append(f.Findings, inUse(findings(err), err)...), http.StatusUnprocessableEntity
			}
			switch done := result.(type) {
			case job.BackupDone:
				if err == nil {
					p.Restored = &done
					if done.Kept != "" {
						p.Kept = filepath.Base(done.Kept)
					}
				}
			case job.ImportDone:
				if err == nil {
					p.Imported = &done
				}
			}
		}
	}
	got, ok, err := s.shop().Received()
	if err != nil {
		return err
	}
	if ok && p.Work == nil {
		s.works.drop(restoreKey)
		p.Restored, p.Kept, p.Imported = nil, "", nil
		p.Got, p.Size, p.Latest = &got, sizeText(int(got.Bytes)), clockText(got.Holds.Latest)
		mine, err := s.shop().Contents()
		if err != nil {
			f.Findings = append(f.Findings, findings(err)...) // a record that cannot be read can still be replaced
		}
		p.Mine, p.MyLatest = mine, clockText(mine.Latest)
		p.compare(got.Holds, mine)
	}
	if p.Restored != nil || p.Imported != nil {
		f.Next = &link{"Look at the records", Path + "records"}
	}
	f.Body = p
	s.send(w, r, status, "restore", f)
	return nil
}

// inUse tells what to do about another process in terms of the page.
func inUse(all []finding, err error) []finding {
	if job.InUse(err) {
		for i := range all {
			all[i].Where, all[i].Do = "", "close every other floatmark, also one in a terminal, then press it again; nothing was changed"
		}
	}
	return all
}

// compare lists the batches of both.
func (p *restorePage) compare(there, here job.Contents) {
	rows := map[string]*heldShown{}
	of := func(name string) *heldShown {
		if rows[name] == nil {
			rows[name] = &heldShown{Batch: name}
		}
		return rows[name]
	}
	for _, b := range here.Batches {
		r := of(b.Batch)
		r.Here, r.Floats, r.Latest = true, b.Floats, clockText(b.Latest)
	}
	for _, b := range there.Batches {
		r := of(b.Batch)
		r.There, r.ThereHas, r.ThereLast = true, b.Floats, clockText(b.Latest)
	}
	for _, r := range rows {
		p.Rows = append(p.Rows, *r)
	}
	slices.SortFunc(p.Rows, func(a, b heldShown) int {
		return cmp.Or(strings.Compare(max(b.Latest, b.ThereLast), max(a.Latest, a.ThereLast)), strings.Compare(a.Batch, b.Batch))
	})
	p.Lost = here.Rows > 0 && (p.Got.Other || here.Latest > there.Latest || here.Rows > there.Rows)
}

// uploadTime is how long a copy may take to come: eight gigabytes over a slow
// network at home. An estimate.
const uploadTime = 30 * time.Minute

// receive takes a copy and shows what is in it.
func (s *server) receive(w http.ResponseWriter, r *http.Request) error {
	if one := s.works.of(restoreKey); one != nil && !one.over() {
		return fault.Inputf("wait until it has ended", "a copy is being restored")
	}
	c := http.NewResponseController(w)
	end := time.Now().Add(uploadTime)
	_ = errors.Join(c.SetReadDeadline(end), c.SetWriteDeadline(end)) // a server without deadlines needs none put off
	parts, err := r.MultipartReader()
	if err != nil {
		return fault.Inputf("send it from the page", "the form holds no file: %v", err)
	}
	for {
		part, err := parts.NextPart()
		if err != nil {
			return s.showRestore(w, r, http.StatusUnprocessableEntity, findings(tooLarge(err, fault.Inputf("choose the file first", "there is no file in the form"))))
		}
		if part.FormName() != "file" {
			continue
		}
		if _, err := s.shop().Receive(r.Context(), part); err != nil {
			if fault.ClassOf(err) != fault.Input {
				return err
			}
			return s.showRestore(w, r, http.StatusUnprocessableEntity, findings(tooLarge(err, err)))
		}
		return back(w, r, "records/restore")
	}
}

// tooLarge tells of a form that is larger than is taken; else it is the other error.
func tooLarge(err, other error) error {
	var most *http.MaxBytesError
	if errors.As(err, &most) {
		return fault.Inputf("restore it with the command: floatmark restore FILE", "the file is larger than %s", sizeText(int(most.Limit)))
	}
	return other
}

// patienceInUse is how long a restore waits for what has just looked into the
// records to be done with them.
const patienceInUse = 2 * time.Second

// restore puts the copy in the place of the record, or reads it into it, once this
// server has closed the record.
func (s *server) restore(w http.ResponseWriter, r *http.Request) error {
	sum, how := r.PostFormValue("sum"), r.PostFormValue("how")
	rows, err := strconv.Atoi(r.PostFormValue("rows"))
	if err != nil || how != job.BackupKind && how != job.ExportKind {
		return fault.Inputf("press one of the page's buttons", "the form does not say what is to be restored")
	}
	if one := s.works.of(restoreKey); one != nil && one.over() {
		_, waits, err := s.shop().Received()
		if _, _, failed := one.outcome(); err == nil && !waits && failed == nil {
			return back(w, r, "records/restore") // pressed twice: it is done
		}
	}
	if s.works.busy(restoreKey, indexKey) {
		return s.showRestore(w, r, http.StatusUnprocessableEntity, findings(fault.Inputf("wait until it has ended, or stop it on its page", "a print or other work goes on in this workshop; nothing was changed")))
	}
	shop := *s.shop()
	s.works.begin(restoreKey, 0, func(ctx context.Context, tell job.Progress) (any, error) {
		tell("restore", 0, 0)
		if how == job.ExportKind {
			done, err := shop.ImportReceived(ctx, sum)
			s.reopen()
			return done, err
		}
		s.forget() // what is being worked out looks into the record
		var done job.BackupDone
		var err error
		for end := time.Now().Add(patienceInUse); ; time.Sleep(50 * time.Millisecond) {
			err = s.alone(func() (err error) { done, err = shop.RestoreReceived(ctx, sum, rows); return err })
			if !job.InUse(err) || time.Now().After(end) {
				break
			}
		}
		s.works.clear(restoreKey) // they are of another record
		s.reopen()
		return done, err
	})
	return back(w, r, "records/restore")
}

// alone runs do while this server has the record closed.
func (s *server) alone(do func() error) error {
	if s.o.Alone == nil {
		return do()
	}
	return s.o.Alone(do)
}

func (s *server) putAway(w http.ResponseWriter, r *http.Request) error {
	if one := s.works.of(restoreKey); one != nil && !one.over() {
		return fault.Inputf("wait until it has ended", "a copy is being restored")
	}
	if err := s.shop().PutAway(); err != nil {
		return err
	}
	return back(w, r, "records/restore")
}
