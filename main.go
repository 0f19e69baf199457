// Command scopewright is the whole program: the web app and what can be done
// without it.
package main

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"time"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/export"
	"scopewright/export/exchange"
	"scopewright/export/findings"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/web"
	"scopewright/web/intake"
	"scopewright/web/sheets"
)

// Exit codes. Those of check are a contract.
const (
	exitDone   = 0
	exitFound  = 1 // check found an error
	exitFailed = 2 // could not run
)

const usualDB = "scopewright.db"

// command is one word after the program's name.
type command struct {
	name, usage, short string
	flags              func(*flag.FlagSet, *options)
	most               int // arguments besides flags
	run                func(context.Context, *call) (int, error)
}

func commands() []command {
	return []command{
		{"serve", "[--db FILE] [--listen ADDR]", "the web app in a browser; also without any command", flags("db", "listen"), 0, serve},
		{"demo", "[--listen ADDR] [--to FILE]", "an invented project in a temporary database, served; or its exchange file", flags("listen", "to"), 0, runDemo},
		{"check", "FILE | --db FILE [--project P] [--format text|json]", "run the rules and explore the rooms; 0: no error, 1: errors, 2: could not run", flags("db", "project", "format"), 1, check},
		{"export", "[--db FILE] [--project P] [--kind K] [--format F] [--room N] [--revision N] [--paper P] [--to DIR]", "write documents, schedules or the exchange file (--kind json)", flags("db", "project", "kind", "format", "room", "revision", "paper", "to"), 0, runExport},
		{"import", "[--db FILE] INPUT [--replace] [--project P] [--storey S] [--unit U] [--yes]", "take in an exchange file, a room list, a luminaire schedule or a plan (gbXML, DXF, IFC)", flags("db", "project", "replace", "storey", "unit", "yes"), 1, runImport},
		{"backup", "[--db FILE] OUT", "write a whole copy of the database, while it is in use too", flags("db"), 1, backup},
		{"restore", "[--db FILE] BACKUP [--replace]", "check a backup and make it the database", flags("db", "replace"), 1, restore},
		{"rules", "[--format md|json]", "print the rule reference", flags("format"), 0, printRules},
		{"schema", "", "print the JSON Schema of the exchange file", flags(), 0, printSchema},
		{"version", "", "print the version", flags(), 0, printVersion},
	}
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr, time.Now)
	stop()
	os.Exit(code)
}

// options are what flags say.
type options struct {
	db, listen, project, format, to, kind, room, paper, storey, unit string
	revision                                                         int
	replace, yes                                                     bool
}

// flags gives a command the flags that are named.
func flags(names ...string) func(*flag.FlagSet, *options) {
	return func(fs *flag.FlagSet, o *options) {
		for _, name := range names {
			switch name {
			case "db":
				fs.StringVar(&o.db, name, "", "database `FILE` (default "+usualDB+" in this folder)")
			case "listen":
				fs.StringVar(&o.listen, name, "127.0.0.1:8417", "listen on `ADDR`, on this machine only; port 0 takes a free one")
			case "project":
				fs.StringVar(&o.project, name, "", "`P`roject by ID, number or name, where the database has several")
			case "format":
				fs.StringVar(&o.format, name, "", "`F`ormat: text or json for findings; md or json for rules; pdf, xlsx, csv or html for documents")
			case "to":
				fs.StringVar(&o.to, name, "", "`PATH` to write to")
			case "kind":
				fs.StringVar(&o.kind, name, "set", "`K`ind of document: json, sheets, schedule, "+strings.Join(kindIDs(), ", "))
			case "room":
				fs.StringVar(&o.room, name, "", "only the room of that `N`umber")
			case "revision":
				fs.IntVar(&o.revision, name, 0, "the issued revision of that `N`umber instead of the present state")
			case "paper":
				fs.StringVar(&o.paper, name, "letter", "`P`aper: letter, a4, tabloid, a3, arch-c, a2, arch-d or a1")
			case "replace":
				fs.BoolVar(&o.replace, name, false, "replace what is there")
			case "storey":
				fs.StringVar(&o.storey, name, "", "the `S`torey of the project that a plan shows, where it shows one")
			case "unit":
				fs.StringVar(&o.unit, name, "", "`U`nit of length of a plan that leaves it open: m, mm, cm, ft or in")
			case "yes":
				fs.BoolVar(&o.yes, name, false, "store what the plan says")
			}
		}
	}
}

func kindIDs() (ids []string) {
	for _, k := range export.Kinds() {
		ids = append(ids, k.ID)
	}
	return ids
}

var (
	unknownFlag = regexp.MustCompile(`^flag provided but not defined: -+(.*)$`)
	emptyFlag   = regexp.MustCompile(`^flag needs an argument: -+(.*)$`)
	wrongFlag   = regexp.MustCompile(`^invalid (?:boolean )?value (".*") for (?:flag )?-+([a-z]+): `)
	oddFlag     = regexp.MustCompile(`^bad flag syntax: (.*)$`)
)

// flagWords says in words for people what package flag found wrong. Only
// numbers and switches can hold a wrong value.
func flagWords(err error) string {
	text, _, _ := strings.Cut(err.Error(), "\n")
	if m := unknownFlag.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("there is no flag --%s", m[1])
	}
	if m := emptyFlag.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("--%s needs a value behind it", m[1])
	}
	if m := wrongFlag.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("--%s cannot be %s", m[2], m[1])
	}
	if m := oddFlag.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("%q is no flag", m[1])
	}
	return text
}

// call is one run of a command.
type call struct {
	options
	args     []string
	out, err io.Writer
	now      func() time.Time
	log      *slog.Logger
	judge    *web.Judge
}

func run(ctx context.Context, args []string, out, errs io.Writer, now func() time.Time) int {
	name := "serve"
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		name, args = args[0], args[1:]
	} else if len(args) > 0 && strings.HasSuffix(args[0], "help") || len(args) > 0 && args[0] == "-h" {
		name, args = "help", nil
	} else if len(args) > 0 && (args[0] == "-v" || args[0] == "--version") {
		name, args = "version", nil
	}
	switch {
	case name == "help" && len(args) > 0:
		name, args = args[0], []string{"-h"}
	case name == "help":
		help(out)
		return exitDone
	}
	for _, cmd := range commands() {
		if cmd.name == name {
			return cmd.start(ctx, args, &call{out: out, err: errs, now: now, log: cmd.log(errs), judge: web.NewJudge(now)})
		}
	}
	fmt.Fprintf(errs, "scopewright: there is no command %q: scopewright help lists them\n", name)
	return exitFailed
}

// log is for what runs on; a command that ends says all that there is to say
// in its answer.
func (cmd command) log(errs io.Writer) *slog.Logger {
	if cmd.name == "serve" || cmd.name == "demo" {
		return slog.New(slog.NewTextHandler(errs, nil))
	}
	return slog.New(slog.DiscardHandler)
}

func (cmd command) start(ctx context.Context, args []string, c *call) int {
	fs := flag.NewFlagSet(cmd.name, flag.ContinueOnError)
	fs.SetOutput(io.Discard) // mistakes are told below, in one line
	cmd.flags(fs, &c.options)
	for rest := args; ; rest = rest[1:] { // flags may stand behind arguments
		if err := fs.Parse(rest); errors.Is(err, flag.ErrHelp) {
			fmt.Fprintf(c.err, "scopewright %s %s\n  %s\n", cmd.name, cmd.usage, cmd.short)
			fs.SetOutput(c.err)
			fs.PrintDefaults()
			return exitDone
		} else if err != nil {
			fmt.Fprintf(c.err, "scopewright %s: %s: scopewright %s -h lists the flags\n", cmd.name, flagWords(err), cmd.name)
			return exitFailed
		}
		if rest = fs.Args(); len(rest) == 0 {
			break
		}
		c.args = append(c.args, rest[0])
	}
	if len(c.args) > cmd.most {
		fmt.Fprintf(c.err, "scopewright %s: what is %q for? scopewright %s -h tells\n", cmd.name, c.args[cmd.most], cmd.name)
		return exitFailed
	}
	code, err := cmd.run(ctx, c)
	if err != nil {
		fmt.Fprintf(c.err, "scopewright %s: %v\n", cmd.name, err)
		return exitFailed
	}
	return code
}

func help(out io.Writer) {
	fmt.Fprintln(out, "Scopewright designs the lighting controls of a building, room by room.")
	for _, cmd := range commands() {
		fmt.Fprintf(out, "\n  scopewright %s %s\n      %s\n", cmd.name, cmd.usage, cmd.short)
	}
	fmt.Fprintln(out, "\nscopewright COMMAND -h explains the flags of a command.")
}

func serve(ctx context.Context, c *call) (int, error) {
	listener, err := web.Listen(c.listen)
	if err != nil {
		return exitFailed, err
	}
	defer listener.Close()
	s, err := c.open(ctx, false)
	if err != nil {
		return exitFailed, err
	}
	defer s.Close()
	return c.serveOn(ctx, listener, s, false)
}

func (c *call) serveOn(ctx context.Context, listener net.Listener, s *store.Store, demo bool) (int, error) {
	ready := func(url string) {
		fmt.Fprintf(c.out, "Scopewright is at %s\nDatabase: %s. Stop with Ctrl-C.\n", url, s.Path())
	}
	return exitDone, web.Serve(ctx, web.Options{Store: s, Listener: listener, Log: c.log, Now: c.now, Judge: c.judge, Demo: demo, Ready: ready})
}

func runDemo(ctx context.Context, c *call) (int, error) {
	scope := demo.Scope()
	demo.Sign(scope, export.RoomHash(c.now))
	if c.to != "" {
		return c.saved([]string{c.to}, export.Save(c.to, func(w io.Writer) error { return exchange.Write(w, scope) }))
	}
	listener, err := web.Listen(c.listen)
	if err != nil {
		return exitFailed, err
	}
	defer listener.Close()
	folder, err := os.MkdirTemp("", "scopewright-demo-")
	if err != nil {
		return exitFailed, err
	}
	defer os.RemoveAll(folder)
	c.db = filepath.Join(folder, "demo.db")
	s, err := c.open(ctx, false)
	if err != nil {
		return exitFailed, err
	}
	defer s.Close()
	if err := s.ImportScope(ctx, "demo", scope, false, nil); err != nil {
		return exitFailed, err
	}
	return c.serveOn(ctx, listener, s, true)
}

// open opens the database; to read it only, it must be there.
func (c *call) open(ctx context.Context, readOnly bool) (*store.Store, error) {
	c.db = cmp.Or(c.db, usualDB)
	if readOnly {
		if err := c.present(); err != nil {
			return nil, err
		}
	}
	return store.Open(ctx, store.Options{Path: c.db, Log: c.log, Now: c.now, ReadOnly: readOnly, Summarize: c.judge.Summarize, Hash: export.RoomHash(c.now), Judgement: c.judge.Judgement})
}

// openProject opens the database and finds the project that is meant.
func (c *call) openProject(ctx context.Context, readOnly bool) (*store.Store, domain.ID, error) {
	s, err := c.open(ctx, readOnly)
	if err != nil {
		return nil, "", err
	}
	id, err := s.FindProject(ctx, c.project)
	if err != nil {
		s.Close()
		return nil, "", err
	}
	return s, id, nil
}

func (c *call) present() error {
	c.db = cmp.Or(c.db, usualDB)
	if _, err := os.Stat(c.db); errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("there is no database %s: say which with --db FILE", c.db)
	}
	return nil
}

func check(ctx context.Context, c *call) (int, error) {
	if !slices.Contains([]string{"", "text", "json"}, c.format) {
		return exitFailed, fmt.Errorf("findings come as text or json, not as %q", c.format)
	}
	scope, err := c.scopeToCheck(ctx)
	if err != nil {
		return exitFailed, err
	}
	report, err := findings.Explore(scope, c.now())
	if err != nil {
		return exitFailed, err
	}
	write := report.Text
	if c.format == "json" {
		write = report.JSON
	}
	if err := write(c.out); err != nil || report.Errors == 0 {
		return exitDone, err
	}
	return exitFound, nil
}

// scopeToCheck reads an exchange file, or a project out of a database.
func (c *call) scopeToCheck(ctx context.Context) (*domain.Scope, error) {
	if (len(c.args) == 1) == (c.db != "") {
		return nil, errors.New("name an exchange file, or a database with --db FILE")
	}
	if len(c.args) == 1 {
		f, err := export.OpenNamed(c.args[0])
		if err != nil {
			return nil, err
		}
		defer f.Close()
		in := bufio.NewReader(f)
		if head, _ := in.Peek(16); !bytes.HasPrefix(head, []byte("SQLite format 3\x00")) {
			if c.project != "" {
				return nil, fmt.Errorf("%s holds one project only: leave --project out", c.args[0])
			}
			scope, err := exchange.Read(in)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", c.args[0], err)
			}
			return scope, nil
		}
		c.db = c.args[0]
	}
	s, id, err := c.openProject(ctx, true)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	return s.Load(ctx, id)
}

func runExport(ctx context.Context, c *call) (int, error) {
	if c.revision < 0 {
		return exitFailed, fmt.Errorf("--revision cannot be %d: revisions are numbered from 1", c.revision)
	}
	s, id, err := c.openProject(ctx, true)
	if err != nil {
		return exitFailed, err
	}
	defer s.Close()
	order := sheets.Folder{Path: cmp.Or(c.to, "."), Kind: c.kind, Format: c.format, Room: c.room, Revision: c.revision, Paper: c.paper}
	paths, err := order.Write(ctx, s, id, c.now())
	code, _ := c.saved(paths, nil) // some may be done before one fails
	return code, err
}

// saved says what was written.
func (c *call) saved(paths []string, err error) (int, error) {
	if err != nil {
		return exitFailed, err
	}
	for _, p := range paths {
		fmt.Fprintln(c.out, "wrote", p)
	}
	return exitDone, nil
}

func runImport(ctx context.Context, c *call) (int, error) {
	if len(c.args) == 0 {
		return exitFailed, errors.New("name the file to take in")
	}
	data, err := export.ReadNamed(c.args[0])
	if err != nil {
		return exitFailed, err
	}
	if !exchange.LooksLike(data) {
		return c.importList(ctx, data)
	}
	if c.project != "" {
		return exitFailed, fmt.Errorf("%s holds a project of its own: leave --project out", c.args[0])
	}
	scope, err := exchange.Read(bytes.NewReader(data))
	if err != nil {
		return exitFailed, fmt.Errorf("%s was not taken in: %w", c.args[0], err)
	}
	s, err := c.open(ctx, false)
	if err != nil {
		return exitFailed, err
	}
	defer s.Close()
	if err := s.ImportScope(ctx, "import", scope, c.replace, nil); errors.Is(err, store.ErrExists) {
		return exitFailed, fmt.Errorf("project %s is in %s already: add --replace to put this file in its place", scope.Project.Name, s.Path())
	} else if err != nil {
		return exitFailed, err
	}
	fmt.Fprintf(c.out, "imported %s with %d typicals and %d rooms into %s\n", scope.Project.Name, len(scope.Typicals), len(scope.Rooms), s.Path())
	return exitDone, nil
}

// importList shows what the list does; --yes does it.
func (c *call) importList(ctx context.Context, data []byte) (int, error) {
	if err := c.present(); err != nil {
		return exitFailed, err
	}
	s, id, err := c.openProject(ctx, false)
	if err != nil {
		return exitFailed, err
	}
	defer s.Close()
	err = intake.TakeFile(ctx, s, id, intake.File{Name: filepath.Base(c.args[0]), Data: data, Storey: c.storey, Unit: c.unit, Keep: c.yes}, c.out)
	if err != nil {
		err = fmt.Errorf("%s was not taken in: %w", c.args[0], err)
	} else if !c.yes {
		fmt.Fprintln(c.out, "Nothing is stored yet: add --yes to do this.")
	}
	return exitDone, err
}

func backup(ctx context.Context, c *call) (int, error) {
	if len(c.args) == 0 {
		return exitFailed, errors.New("say where the backup goes: scopewright backup --db FILE OUT")
	}
	s, err := c.open(ctx, true)
	if err != nil {
		return exitFailed, err
	}
	defer s.Close()
	return c.saved([]string{c.args[0], c.args[0] + ".sha256"}, s.Backup(ctx, c.args[0]))
}

func restore(ctx context.Context, c *call) (int, error) {
	if len(c.args) == 0 {
		return exitFailed, errors.New("say which backup: scopewright restore --db FILE BACKUP")
	}
	c.db = cmp.Or(c.db, usualDB)
	return c.saved([]string{c.db}, store.Restore(ctx, c.args[0], c.db, c.replace))
}

func printRules(_ context.Context, c *call) (int, error) {
	text, err := validate.Reference(cmp.Or(c.format, "md"))
	if err == nil {
		_, err = c.out.Write(text)
	}
	return exitDone, err
}

func printSchema(_ context.Context, c *call) (int, error) {
	_, err := c.out.Write(exchange.Schema())
	return exitDone, err
}

func printVersion(_ context.Context, c *call) (int, error) {
	version := "unknown"
	if info, ok := debug.ReadBuildInfo(); ok {
		version = info.Main.Version
	}
	_, err := fmt.Fprintf(c.out, "scopewright %s\n", version)
	return exitDone, err
}
