// Package intake is the folder of the store for files that other people made.
// Each package below it turns bytes into domain values and a list of problems,
// and writes nothing: someone else decides what is stored.
//
//	table       bytes of a CSV file or a workbook -> rows of text
//	columns     rows of text -> which column says what, which rows are data
//	roomlist    a room list -> rooms, and a plan of what they would change
//	luminaires  a luminaire schedule -> types, and a plan alike
//	building    what every reader of plans gives: storeys, spaces, walls
//	gbxml       a building model in gbXML -> building
//	dxf         a drawing in DXF -> building
//	ifc         a building model in IFC -> building
//	match       building -> what it would do to a project's rooms and walls
//	building    what every reader of plans gives: storeys, spaces, walls
//	gbxml       a building model in gbXML -> that
package intake
