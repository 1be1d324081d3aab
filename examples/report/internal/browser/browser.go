// Package browser drives a headless Chromium over its DevTools protocol by a pipe, as
// far as looking at a page needs: what it logs and loads, what a script in it says,
// how it looks on a screen and on paper, and what a screen reader is told.
package browser

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"time"
)

// ErrAbsent means that no Chromium was found.
var ErrAbsent = errors.New("no chromium found; install it (on Debian: apt-get install chromium) or name it in CHROMIUM")

// Browser is a running Chromium. Its methods are not safe for concurrent use.
type Browser struct {
	process *exec.Cmd
	profile string
	in      io.WriteCloser
	out     *bufio.Reader
	last    int
	events  []event
}

type event struct {
	Method  string
	Session string `json:"sessionId"`
	Params  json.RawMessage
}

// find returns the program of the environment variable CHROMIUM, or one of the usual
// names.
func find() (string, error) {
	for _, name := range []string{os.Getenv("CHROMIUM"), "chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", ErrAbsent
}

// Start starts a Chromium with a profile of its own, to be ended by Close. Whatever
// it does longer than timeout ends it.
func Start(timeout time.Duration) (*Browser, error) {
	path, err := find()
	if err != nil {
		return nil, err
	}
	profile, err := os.MkdirTemp("", "report-browser-")
	if err != nil {
		return nil, err
	}
	b := &Browser{profile: profile}
	if err := b.start(path, timeout); err != nil {
		b.Close()
		return nil, err
	}
	return b, nil
}

func (b *Browser) start(path string, timeout time.Duration) error {
	childIn, in, err := os.Pipe()
	if err != nil {
		return err
	}
	defer childIn.Close()
	b.in = in
	out, childOut, err := os.Pipe()
	if err != nil {
		return err
	}
	defer childOut.Close()
	b.out = bufio.NewReader(out)
	b.process = exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--hide-scrollbars", "--force-color-profile=srgb", "--user-data-dir="+b.profile, "--remote-debugging-pipe", "about:blank")
	b.process.ExtraFiles = []*os.File{childIn, childOut}
	if err := b.process.Start(); err != nil {
		return err
	}
	return out.SetReadDeadline(time.Now().Add(timeout))
}

// Close ends the browser and removes its profile.
func (b *Browser) Close() error {
	if b.process != nil && b.process.Process != nil {
		b.call("", "Browser.close", nil, nil)
		io.Copy(io.Discard, b.out) // until it has let go of its profile
		b.in.Close()
		b.process.Process.Kill()
		b.process.Wait()
	}
	return os.RemoveAll(b.profile)
}

// call asks the browser, or a session of it, and reads its answer; what it reports in
// between is kept as events.
func (b *Browser) call(session, method string, params, answer any) error {
	b.last++
	request := map[string]any{"id": b.last, "method": method}
	if params != nil {
		request["params"] = params
	}
	if session != "" {
		request["sessionId"] = session
	}
	data, err := json.Marshal(request)
	if err != nil {
		return err
	}
	if _, err := b.in.Write(append(data, 0)); err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
	return b.await(method, b.last, answer)
}

func (b *Browser) await(method string, id int, answer any) error {
	for {
		var m struct {
			ID     int
			Result json.RawMessage
			Error  *struct{ Message string }
			event
		}
		if err := b.read(&m); err != nil {
			return fmt.Errorf("%s: %w", method, err)
		}
		switch {
		case m.Method != "":
			b.events = append(b.events, m.event)
		case m.ID != id:
		case m.Error != nil:
			return fmt.Errorf("%s: %s", method, m.Error.Message)
		case answer == nil:
			return nil
		default:
			return json.Unmarshal(m.Result, answer)
		}
	}
}

func (b *Browser) read(message any) error {
	data, err := b.out.ReadBytes(0)
	if err != nil {
		return err
	}
	return json.Unmarshal(data[:len(data)-1], message)
}
