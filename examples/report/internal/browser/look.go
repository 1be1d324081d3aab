package browser

// Screenshot is the whole page as a PNG.
func (p *Page) Screenshot() ([]byte, error) {
	var shot struct{ Data []byte }
	err := p.call("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true, "format": "png"}, &shot)
	return shot.Data, err
}

// PDF is the page printed on A4.
func (p *Page) PDF() ([]byte, error) {
	var pdf struct{ Data []byte }
	err := p.call("Page.printToPDF", map[string]any{"paperWidth": 8.27, "paperHeight": 11.69, "printBackground": true, "preferCSSPageSize": true}, &pdf)
	return pdf.Data, err
}

// Vision shows the page as people with a deficiency see it: "none", "protanopia",
// "deuteranopia", "tritanopia", or "achromatopsia", which is also black and white.
func (p *Page) Vision(deficiency string) error {
	return p.call("Emulation.setEmulatedVisionDeficiency", map[string]any{"type": deficiency}, nil)
}

// Node is what a screen reader is told of one thing on the page.
type Node struct{ Role, Name, Description string }

// Accessible lists the nodes in the order of the page.
func (p *Page) Accessible() ([]Node, error) {
	type text struct{ Value any }
	var tree struct {
		Nodes []struct {
			Ignored                 bool
			Role, Name, Description text
		}
	}
	if err := p.call("Accessibility.getFullAXTree", nil, &tree); err != nil {
		return nil, err
	}
	var out []Node
	for _, n := range tree.Nodes {
		if !n.Ignored {
			out = append(out, Node{word(n.Role.Value), word(n.Name.Value), word(n.Description.Value)})
		}
	}
	return out, nil
}

func word(value any) string {
	s, _ := value.(string)
	return s
}
