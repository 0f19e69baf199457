package sheet

// IssueSet is everything in the order of sheet numbers: cover with index, general notes,
// what changed, the owner's narrative, the plans, the schedules and lists, then the scope
// sheets and the installer's pages of all rooms. Reviewers' checklists and functional tests
// room by room are documents of their own; the set holds the state of the reviews.
func IssueSet(c *Content) []Sheet {
	sheets := append([]Sheet{c.generalNotes()}, c.changesSheet()...)
	for _, build := range []func(*Content) []Sheet{ControlNarrative, StoreyPlans, LoadSchedule, DeviceSchedule, BillOfMaterials, LuminaireSchedule, EquipmentAndLimits,
		BatteryPlan, ControlMatrix, SceneTable, SequenceOfOperations, FindingsAndWaivers} {
		sheets = append(sheets, build(c)...)
	}
	sheets = append(sheets, c.projectReview())
	sheets = append(sheets, PointsList(c)...)
	sheets = append(sheets, AVCommands(c)...)
	sheets = append(sheets, PanelSchedule(c)...)
	sheets = append(sheets, RoomScope(c)...)
	sheets = append(sheets, InstallerPage(c)...)
	return append([]Sheet{c.cover(sheets)}, sheets...)
}
