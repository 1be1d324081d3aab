package main

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"github.com/densilot/densilot/examples/internal/shift"
	"github.com/densilot/densilot/lot"
)

//go:embed page.gohtml style.css
var look embed.FS

// page is everything that the template shows.
type page struct {
	Project  string
	Demo     bool
	Facts    []fact
	Lots     []card
	Sections []section
	Cautions string
	Style    template.CSS
}

type fact struct{ Name, Value string }

// card is a lot at a glance.
type card struct {
	Lot, Decision, Mark string
	Facts               []fact
	Warnings            []string
}

func newPage(a shift.Answers, checks *shift.BlockChecks, demo bool) (page, error) {
	style, err := look.ReadFile("style.css")
	if err != nil {
		return page{}, err
	}
	estimates, err := estimateLots(a)
	if err != nil {
		return page{}, err
	}
	risks, err := risksOf(a)
	if err != nil {
		return page{}, err
	}
	t := a.Contract.Plan.Terms()
	p := page{Project: a.Contract.Project, Demo: demo, Facts: facts(a), Cautions: strings.Join(shift.Cautions, " "), Style: template.CSS(style)}
	for _, e := range estimates {
		p.Lots = append(p.Lots, newCard(e, t))
	}
	p.Sections = []section{coresSection(a), blockSection(checks), patternSection(a), sublotSection(a, estimates),
		riskSection(estimates, risks, t), decisionSection(a)}
	return p, nil
}

func facts(a shift.Answers) []fact {
	at := a.Contract.Strip.Scope
	var days []string
	for _, d := range a.Days {
		days = append(days, d.Date.String())
	}
	return []fact{{"Days", list(days)}, {"Gauge", at.Gauge}, {"Mix", at.Mix}, {"Lift", at.Lift}, {"Base", at.Base},
		{"Offset", fmt.Sprintf("%+v, %s, valid %v to %v", a.Offset.Offset, a.Contract.Strip.Source, at.From, at.Until)}}
}

// The marks are read as words by nobody and seen as full, half and empty by all.
var marks = map[lot.Decision]string{lot.Accepted: "●", lot.AcceptedReduced: "◐", lot.Rejected: "○"}

func newCard(e estimate, t lot.Terms) card {
	c := card{Lot: e.Lot.Lot, Decision: e.Decision.String(), Mark: marks[e.Decision]}
	c.Facts = []fact{{"Percent within limits", e.PWL.Used}, {fmt.Sprintf("%g %% interval of the true one", 100*e.Bounds.CI.Level), fmt.Sprintf("%.1f to %.1f", e.Bounds.CI.Lo, e.Bounds.CI.Hi)}}
	c.Facts = append(c.Facts, fact{"Pay factor", factorText(e)})
	if p := e.Payment; p != nil {
		c.Facts = append(c.Facts, fact{"Adjustment", money(shift.Digits(p.Adjustment), t.Currency)}, fact{"Pay", money(shift.Digits(p.Total), t.Currency)})
	}
	if id := flagged(e.Lot); id != "" {
		c.Warnings = []string{fmt.Sprintf("Sublot %s is flagged by the outlier screen and kept. Find the cause before anything is removed.", id)}
	}
	return c
}

// money sets thousands apart with a narrow space, a minus as typography has it.
func money(digits, currency string) string {
	whole, cents, _ := strings.Cut(strings.TrimPrefix(digits, "-"), ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "\u202f" + whole[i:]
	}
	if cents != "" {
		whole += "." + cents
	}
	if digits[0] == '-' {
		whole = "−" + whole
	}
	return whole + " " + currency
}

func decisionSection(a shift.Answers) section {
	s := section{ID: "decision", Title: "The decision with its working"}
	t := a.Contract.Plan.Terms()
	for _, l := range a.Lots {
		s.Parts = append(s.Parts, part{Heading: "Lot " + l.Lot + ": working of the decision"},
			paragraph("%s, %v %s, %s, %d of them within. %s Decision: %v.", sentence(t.Characteristic), t.Limits, t.Unit, count(l.N, "result", "results"), l.WithinCount, screenOf(l), l.Decision),
			working(l.Working), warnings(l.Warnings))
	}
	return s
}

func screenOf(l shift.Lot) string {
	if l.Screen == nil {
		return "No outlier screen."
	}
	finding := "none flagged"
	if id := flagged(l); id != "" {
		finding = id + " flagged and kept"
	}
	g := l.Screen.Steps[0]
	return fmt.Sprintf("Outlier screen: %s (G = %.3f, critical %.3f, %v, alpha %g).", finding, g.Statistic.Exact, g.Critical, l.Screen.Side, l.Screen.Alpha)
}

func (p page) write(out io.Writer) error {
	t, err := template.New("page.gohtml").Funcs(template.FuncMap{"inc": func(i int) int { return i + 1 }}).ParseFS(look, "page.gohtml")
	if err != nil {
		return err
	}
	return t.Execute(out, p)
}
