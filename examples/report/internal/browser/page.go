package browser

import (
	"encoding/json"
	"fmt"
	"path/filepath"
)

// Page is a tab with a page in it.
type Page struct {
	b       *Browser
	session string
}

// Screen is what a page is shown on, in CSS pixels.
type Screen struct {
	Width, Height int
	Phone         bool // as a phone lays pages out, two device pixels to one
}

// Open opens a file on a screen and waits until it is loaded.
func (b *Browser) Open(path string, s Screen) (*Page, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	var target struct{ TargetID string }
	if err := b.call("", "Target.createTarget", map[string]any{"url": "about:blank"}, &target); err != nil {
		return nil, err
	}
	var attached struct{ SessionID string }
	if err := b.call("", "Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached); err != nil {
		return nil, err
	}
	p := &Page{b, attached.SessionID}
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		if err := p.call(domain+".enable", nil, nil); err != nil {
			return nil, err
		}
	}
	if err := p.Resize(s); err != nil {
		return nil, err
	}
	if err := p.call("Page.navigate", map[string]any{"url": "file://" + filepath.ToSlash(path)}, nil); err != nil {
		return nil, err
	}
	return p, p.loaded()
}

func (p *Page) call(method string, params, answer any) error {
	return p.b.call(p.session, method, params, answer)
}

// Resize shows the page on another screen.
func (p *Page) Resize(s Screen) error {
	scale := 1
	if s.Phone {
		scale = 2
	}
	return p.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": s.Width, "height": s.Height, "deviceScaleFactor": scale, "mobile": s.Phone}, nil)
}

// loaded waits for the load event of the navigation.
func (p *Page) loaded() error {
	for {
		for _, e := range p.b.events {
			if e.Session == p.session && e.Method == "Page.loadEventFired" {
				return nil
			}
		}
		var e event
		if err := p.b.read(&e); err != nil {
			return fmt.Errorf("waiting for the page: %w", err)
		}
		p.b.events = append(p.b.events, e)
	}
}

// Evaluate runs a JavaScript expression in the page and decodes its value.
func (p *Page) Evaluate(expression string, value any) error {
	var answer struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct{ Text string }
	}
	if err := p.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true}, &answer); err != nil {
		return err
	}
	if answer.ExceptionDetails != nil {
		return fmt.Errorf("%s: %s", expression, answer.ExceptionDetails.Text)
	}
	return json.Unmarshal(answer.Result.Value, value)
}

// Complaints are what the page logged and the exceptions in it.
func (p *Page) Complaints() []string {
	return p.of("Runtime.consoleAPICalled", "Runtime.exceptionThrown", "Log.entryAdded")
}

// Requests are what the page asked for, itself included.
func (p *Page) Requests() []string { return p.of("Network.requestWillBeSent") }

func (p *Page) of(methods ...string) []string {
	var out []string
	for _, e := range p.b.events {
		for _, m := range methods {
			if e.Session == p.session && e.Method == m {
				out = append(out, string(e.Params))
			}
		}
	}
	return out
}
