// Screenshots shows a report to a headless Chromium and keeps what it looks like: on a
// desk, on a phone, for people who see colours otherwise or not at all, and on paper.
//
//	go run ./screenshots -o FOLDER report.html
//
// The pages of the print are PNG files too where pdftoppm (poppler-utils) is there.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"github.com/densilot/densilot/examples/report/internal/browser"
)

func main() {
	folder := flag.String("o", ".", "write the pictures into this `folder`")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "usage: screenshots -o FOLDER report.html")
		os.Exit(2)
	}
	if err := shoot(flag.Arg(0), *folder); err != nil {
		fmt.Fprintln(os.Stderr, "screenshots:", err)
		os.Exit(1)
	}
}

func shoot(report, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	b, err := browser.Start(5 * time.Minute)
	if err != nil {
		return err
	}
	defer b.Close()
	desk := browser.Screen{Width: 1280, Height: 900}
	p, err := b.Open(report, desk)
	if err != nil {
		return err
	}
	for _, v := range []struct {
		name, vision string
		screen       browser.Screen
	}{
		{"desk", "none", desk},
		{"phone", "none", browser.Screen{Width: 360, Height: 780, Phone: true}},
		{"deuteranopia", "deuteranopia", desk},
		{"protanopia", "protanopia", desk},
		{"tritanopia", "tritanopia", desk},
		{"grey", "achromatopsia", desk},
	} {
		if err := picture(p, v.vision, v.screen, filepath.Join(folder, v.name+".png")); err != nil {
			return err
		}
	}
	return paper(p, folder)
}

func picture(p *browser.Page, vision string, screen browser.Screen, path string) error {
	if err := p.Vision(vision); err != nil {
		return err
	}
	if err := p.Resize(screen); err != nil {
		return err
	}
	shot, err := p.Screenshot()
	if err != nil {
		return err
	}
	return os.WriteFile(path, shot, 0o644)
}

func paper(p *browser.Page, folder string) error {
	if err := p.Vision("none"); err != nil {
		return err
	}
	pdf, err := p.PDF()
	if err != nil {
		return err
	}
	path := filepath.Join(folder, "print.pdf")
	if err := os.WriteFile(path, pdf, 0o644); err != nil {
		return err
	}
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		fmt.Fprintln(os.Stderr, "screenshots: no pdftoppm, so the print is left as a PDF")
		return nil
	}
	return exec.Command(tool, "-r", "80", "-png", path, filepath.Join(folder, "print")).Run()
}
