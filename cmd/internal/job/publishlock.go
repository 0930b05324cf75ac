package job

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"syscall"
	"time"

	"floatmark/loading/fault"
)

// siteLock lies in a folder while it is published into: whose it is and since when.
// Two who wrote into one folder would each take the other's files for strangers'.
const siteLock = ".floatmark-publishing"

// A lock is renewed while its run goes on; one that was not for a while is of a run
// that is gone, and is cleared. On the same computer a run that is gone is known at
// once. Own choice: a busy disc lets nobody wait a minute for one small write.
const (
	lockRenewed = 10 * time.Second
	lockStale   = time.Minute
)

// lockSite takes the folder for one run; release gives it back. An Input error says
// who has it.
func lockSite(root *os.Root) (release func(), err error) {
	host, _ := os.Hostname() // a computer without a name is one like others without
	mine := fmt.Sprintf("%d %s %s %d\n", os.Getpid(), time.Now().UTC().Format(time.RFC3339), strconv.Quote(host), time.Now().UnixNano())
	for range 3 { // a lock that is cleared may be taken by another who waited
		err = writeLock(root, mine)
		if err == nil {
			return keepLock(root, mine), nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, machine(siteLock, "cannot be written", err)
		}
		theirs, at, err := readLock(root)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue // it was given back meanwhile
		case err != nil:
			return nil, machine(siteLock, "cannot be read", err)
		case !gone(theirs, host, discNow(root).Sub(at)):
			return nil, lockedBy(theirs)
		}
		clearLock(root, theirs)
	}
	return nil, lockedBy("")
}

// writeLock puts a lock there whole, where there is none; on a disc that knows no
// links in two steps.
func writeLock(root *os.Root, text string) error {
	temp, err := lockTemp()
	if err != nil {
		return err
	}
	if err := root.WriteFile(temp, []byte(text), 0o644); err != nil {
		return err
	}
	defer root.Remove(temp)
	if err := root.Link(temp, siteLock); err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	f, err := root.OpenFile(siteLock, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.WriteString(text)
	return errors.Join(err, f.Close())
}

func readLock(root *os.Root) (text string, at time.Time, err error) {
	f, err := root.Open(siteLock)
	if err != nil {
		return "", at, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return "", at, err
	}
	const most = 1 << 10 // bytes; a lock has a line
	data, err := io.ReadAll(io.LimitReader(f, most))
	return string(data), info.ModTime(), err
}

// gone reports whether the run of a lock of that age has ended without giving it
// back.
func gone(lock, host string, age time.Duration) bool {
	if age > lockStale {
		return true
	}
	parts := strings.SplitN(strings.TrimSpace(lock), " ", 3)
	if len(parts) < 3 || !strings.HasPrefix(parts[2], strconv.Quote(host)+" ") {
		return false // of another computer, or half written: it is waited for
	}
	pid, err := strconv.Atoi(parts[0])
	if err != nil || pid <= 0 {
		return false
	}
	p, err := os.FindProcess(pid)
	if err != nil {
		return true
	}
	defer p.Release()
	return errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone) // signal 0 only asks; where there is none the process is there
}

// lockTemp is the name of a file beside the lock that nobody else takes.
func lockTemp() (string, error) {
	own, err := Secret()
	return siteLock + "-" + own + tempEnd, err
}

// discNow is the clock of the folder's disc, which may be another computer's.
func discNow(root *os.Root) time.Time {
	name, err := lockTemp()
	if err != nil {
		return time.Now()
	}
	f, err := root.Create(name)
	if err != nil {
		return time.Now()
	}
	defer root.Remove(name)
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return time.Now()
	}
	return info.ModTime()
}

// clearLock takes a lock away if it is still the one that was looked at.
func clearLock(root *os.Root, theirs string) {
	if now, _, err := readLock(root); err == nil && now == theirs {
		_ = root.Remove(siteLock) // where it stays it is met again
	}
}

// keepLock renews a lock until it is given back.
func keepLock(root *os.Root, mine string) (release func()) {
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		tick := time.NewTicker(lockRenewed)
		defer tick.Stop()
		for {
			select {
			case <-stop:
				return
			case <-tick.C:
				if now, _, err := readLock(root); err == nil && now == mine {
					_ = root.Chtimes(siteLock, time.Time{}, time.Now()) // missed once, it is renewed the next time
				}
			}
		}
	}()
	return func() {
		close(stop)
		<-stopped
		clearLock(root, mine)
	}
}

func lockedBy(lock string) error {
	what := "somebody else is publishing into this folder"
	if parts := strings.Fields(lock); len(parts) > 1 {
		if at, err := time.Parse(time.RFC3339, parts[1]); err == nil {
			what = fmt.Sprintf("somebody else is publishing into this folder, since %s", at.Local().Format("15:04"))
		}
	}
	return fault.New(fault.Input, siteLock, what, "wait until that is done, and publish again")
}
