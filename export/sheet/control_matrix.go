package sheet

// ControlMatrix prints who controls what for all rooms: once for each typical, then for
// the rooms that differ.
func ControlMatrix(c *Content) []Sheet {
	s := Sheet{ID: "matrix", Number: numberMatrix, Title: "Control matrix", Head: c.head(), Landscape: true}
	blocks, tables := c.perTypical((*room).matrixTable)
	s.Blocks = withoutNil(append([]Block{c.partialNote()}, blocks...))
	if legend := matrixLegend(tables...); len(legend.Items) > 0 {
		s.Blocks = append(s.Blocks, legend)
	}
	return []Sheet{s}
}

// SceneTable prints the scenes of all rooms: once for each typical, then for the rooms
// that differ.
func SceneTable(c *Content) []Sheet {
	s := Sheet{ID: "scenes", Number: numberScenes, Title: "Scene table", Head: c.head(), Landscape: true}
	blocks, _ := c.perTypical((*room).sceneTable)
	s.Blocks = withoutNil(append([]Block{c.partialNote(), Paragraph{Text: "Levels are percentages of full light output. \"Leave\" means as it is, which is not 0. Store levels after furniture and finishes are in."}}, blocks...))
	return []Sheet{s}
}
