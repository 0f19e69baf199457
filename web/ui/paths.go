// Package ui is what all screens share: the frame, fields, grids, findings,
// and the address of every page as a function.
package ui

import (
	"net/url"
	"strconv"

	"scopewright/domain"
)

// Home is the list of projects.
func Home() string { return "/" }

// Project is the root of a project's pages: the building as a table.
func Project(p domain.ID) string { return "/projects/" + string(p) }

// Settings is the page of a project's own facts, buildings and storeys.
func Settings(p domain.ID) string { return Project(p) + "/settings" }

// Luminaires is the luminaire schedule.
func Luminaires(p domain.ID) string { return Project(p) + "/luminaires" }

// Circuits is the list of branch circuits.
func Circuits(p domain.ID) string { return Project(p) + "/circuits" }

// Code is what the energy code asks of the building and its rooms.
func Code(p domain.ID) string { return Project(p) + "/code" }

// CodeRoom is what the energy code asks of one room.
func CodeRoom(p, r domain.ID) string { return Code(p) + "/rooms/" + string(r) }

// CodeSheets is the list of energy codes as the designer has them.
func CodeSheets(p domain.ID) string { return Code(p) + "/worksheets" }

// CodeSheet is where one of them is edited.
func CodeSheet(p, worksheet domain.ID) string { return CodeSheets(p) + "/" + string(worksheet) }

// Energy is what the lighting of a project uses in a year.
func Energy(p domain.ID) string { return Project(p) + "/energy" }

// EnergyRoom is the year of one room.
func EnergyRoom(p, r domain.ID) string { return Energy(p) + "/rooms/" + string(r) }

// Book is the equipment book with the limits.
func Book(p domain.ID) string { return Project(p) + "/equipment" }

// Documents is the list of what can be printed, and the revisions.
func Documents(p domain.ID) string { return Project(p) + "/documents" }

// Document is one document; room may be empty, format is "html", "pdf", ...
func Document(p domain.ID, kind, format string, room domain.ID, revision int) string {
	q := url.Values{}
	if room != "" {
		q.Set("room", string(room))
	}
	if revision > 0 {
		q.Set("revision", strconv.Itoa(revision))
	}
	path := Documents(p) + "/" + kind + "." + format
	if len(q) > 0 {
		path += "?" + q.Encode()
	}
	return path
}

// Review is the second opinion on a project.
func Review(p domain.ID) string { return Project(p) + "/review" }

// RoomReview is the second opinion on a room.
func RoomReview(p, r domain.ID) string { return Review(p) + "/" + string(r) }

// Import brings a room list, a luminaire schedule or a project file in.
func Import(p domain.ID) string { return Project(p) + "/import" }

// History is the journal of a project.
func History(p domain.ID) string { return Project(p) + "/history" }

// Room is the workbench of a room.
func Room(p, r domain.ID) string { return Project(p) + "/rooms/" + string(r) }

// Typical is the workbench of a typical.
func Typical(p, t domain.ID) string { return Project(p) + "/typicals/" + string(t) }

// Rehearsal is where the sequence of a room or typical runs, by its workbench.
func Rehearsal(workbench string) string { return workbench + "/rehearse" }

// FirstDesign is where a first design of a room is proposed, by its workbench.
func FirstDesign(workbench string) string { return workbench + "/first-design" }

// Plans leads to the plan of the project's first storey.
func Plans(p domain.ID) string { return Project(p) + "/plan" }

// Picture is a stored picture of a project, by its content.
func Picture(p domain.ID, sha string) string {
	return Project(p) + "/pictures/" + url.PathEscape(sha)
}

// Plan is the drawing of a storey.
func Plan(p, storey domain.ID) string { return Project(p) + "/storeys/" + string(storey) + "/plan" }

// DaylightOnPlan leads to a storey's plan with the daylight of one room on it; view is
// zones, factor or sensors.
func DaylightOnPlan(p, storey, room domain.ID, view string) string {
	return Plan(p, storey) + "?" + url.Values{"overlay": {"daylight"}, "view": {view}, "room": {string(room)}}.Encode()
}

// Divide shows the areas into which a room can be divided.
func Divide(p, storey, room domain.ID) string {
	return Plan(p, storey) + "/divide?room=" + url.QueryEscape(string(room))
}

// Live is the stream of what changes in a project.
func Live(p domain.ID) string { return Project(p) + "/live" }

// Rules is the rule reference, at a rule where one is named.
func Rules(id string) string {
	if id == "" {
		return "/rules"
	}
	return "/rules#" + url.PathEscape(id)
}

// Issue is the page that freezes the next revision.
func Issue(p domain.ID) string { return Documents(p) + "/issue" }

// Revision is an issued revision: what changed, and its reprints.
func Revision(p domain.ID, number int) string {
	return Documents(p) + "/revisions/" + strconv.Itoa(number)
}

// Checklist is where the questions of the second opinion are edited.
func Checklist(p domain.ID) string { return Project(p) + "/checklist" }

// ImportPreview says line by line what an import would do.
func ImportPreview(p domain.ID, token string) string {
	return Import(p) + "/" + url.PathEscape(token)
}
