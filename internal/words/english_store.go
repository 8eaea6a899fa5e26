package words

import "maps"

func init() { maps.Copy(english, englishStore) }

// englishStore holds the texts of saving, and of what a store keeps.
var englishStore = map[string]string{
	"cmd.save":     "Keep a project folder as a revision in a store.",
	"cmd.history":  "List the revisions of a store.",
	"cmd.revision": "Show what changed in a revision, or write it into a folder.",
	"cmd.backup":   "Write all that a store holds into one file.",
	"cmd.restore":  "Make a store of a backup.",

	"help.save": "A revision holds the folder's project.toml, signal list, hardware.toml, choices, accepted and built design, and imports, as they are. " +
		"It is never changed or deleted. Where others saved since, their edits and yours are joined and come into the folder: by id and column in the " +
		"signal list, by subject and property in choices.toml, by line in project.toml and hardware.toml. Where both changed the same, nothing in the folder moves; " +
		"your version is kept in the store beside theirs, and you decide with --take mine, --take theirs, or --take with the ids for which yours is right.\n\n" +
		"The store is a file, begun by the first save, or a PostgreSQL database named by its URL. RAILWRIGHT_STORE stands in for --store, RAILWRIGHT_AUTHOR for --author.\n\n" +
		"Example:\n\n    railwright save waterworks --store works.store --author \"A. Fitter\" --note \"pumps added\"\n\n" +
		"Exit code: 0 saved or nothing to save, 1 conflicts to decide, 2 wrong usage, 3 the store failed.",
	"help.history": "Shows number, time (UTC), author, note and changed files of each revision, the newest first; or the projects, where the store holds several and none is named.\n\n" +
		"Example:\n\n    railwright history --store works.store\n    railwright history --store works.store --project waterworks --json\n\n" +
		"Exit code: 0 done, 2 wrong usage, 3 the store failed.",
	"help.revision": "A revision is named by its number, or by a head: main is the newest. Without --into it shows what changed since its parent (or --since), cell by cell. " +
		"With --into it is written into a folder that is new or empty, or that was saved and has not been edited since.\n\n" +
		"Example:\n\n    railwright revision 12 --store works.store\n    railwright revision main --store works.store --into waterworks\n\n" +
		"Exit code: 0 done, 2 wrong usage, 3 the store failed.",
	"help.backup": "Holds every project, revision and record as they stood at one moment, whatever others save meanwhile, with checksums. It can be restored into a file or a database, whichever it came from. " +
		"Keep it on another disk.\n\n" +
		"Example:\n\n    railwright backup works.backup --store works.store\n    railwright backup works.backup --store postgres://planner@db.example/railwright\n\n" +
		"Exit code: 0 done, 2 wrong usage, 3 the store failed.",
	"help.restore": "The store must not be there yet, or must be empty. Nothing is restored from a backup that was cut off or changed.\n\n" +
		"Example:\n\n    railwright restore works.backup --store works-again.store\n\n" +
		"Exit code: 0 done, 2 wrong usage or an unsound backup, 3 the store failed.",

	"store.no_store":            "no store named",
	"store.no_store_hint":       "--store FILE, --store postgres://USER@HOST/DATABASE, or the variable RAILWRIGHT_STORE",
	"store.database":            "database %s",
	"store.empty_database":      "%s holds no store yet",
	"store.empty_database_hint": "railwright save FOLDER --store URL     begins one",
	"store.missing":             "there is no store %s",
	"store.missing_hint":        "railwright save FOLDER --store %s     begins one",
	"store.foreign":             "%s is not a store of railwright and was left as it is",
	"store.foreign_hint":        "Name another file, or an empty database.",
	"store.newer":               "%s was written by a newer railwright and was left as it is",
	"store.newer_hint":          "Use the version that wrote it, or a later one.",
	"store.damaged":             "%s is damaged",
	"store.damaged_hint":        "railwright restore BACKUP --store NEW     makes a new store of the last backup",
	"store.untouched_hint":      "The damaged store was left as it is: keep it until the restored one has been looked through.",
	"store.not_empty":           "%s already holds projects",
	"store.not_empty_hint":      "Restore into a new file or an empty database.",
	"store.refused":             "refused",
	"store.busy":                "%s is held by others for too long",
	"store.failed":              "%s could not be used",
	"store.too_large":           "%s is larger than %d MB, the most that a store keeps",

	"store.no_author":           "nobody named who saves",
	"store.no_author_hint":      "--author NAME, or the variable RAILWRIGHT_AUTHOR",
	"store.bad_state":           "%s is not understood",
	"store.bad_state_hint":      "It says which revision the folder comes from. Delete it to save the folder as a project of its own.",
	"store.save_again":          "Save again.",
	"store.other_project":       "%s comes from the project %s, not %s",
	"store.other_project_hint":  "Delete %s to save it as another project.",
	"store.other_store":         "the store does not hold revision %d of %s, which the folder comes from",
	"store.other_store_hint":    "Name the store that does, or delete %s to save the folder as a project of its own.",
	"store.no_project_id":       "the project has no name to make an id of; give one with --project ID",
	"store.project_exists":      "the store already holds a project %s, and this folder does not come from it",
	"store.project_exists_hint": "railwright revision main --project %s --into DIR     writes that project into a folder; --project ID saves this one under another id",
	"store.bad_take":            "--take names %s, on which there is nothing to decide",
	"store.no_project":          "the store holds no project %s",
	"store.projects":            "It holds: %s.",
	"store.which_project":       "the store holds several projects or none; name one with --project ID",
	"store.no_revision":         "%s has no revision %s",
	"store.revision_hint":       "Name a revision by its number, or by a head; main is the newest.",
	"store.other_folder":        "%s holds other files and does not come from the project %s in this store",
	"store.unsaved":             "%s holds edits that were not saved since revision %d",
	"store.unsaved_hint":        "railwright save %s     keeps them; then write the revision",
	"store.out_exists":          "%s exists already",
	"store.out_exists_hint":     "Name another file, or add --overwrite.",
	"store.bad_backup":          "%s is not a sound backup",
	"store.bad_backup_hint":     "Nothing was restored. Take another backup.",

	"store.saved":          "Saved %s as revision %d of %s.",
	"store.saved_new":      "Saved %s as revision %d of the new project %s.",
	"store.saved_merged":   "Others had saved revision %d (%s) meanwhile. Both were joined into revision %d of %s; your own version is revision %d.",
	"store.came_in":        "Changed in %s by the joining: %s.",
	"store.plan_again":     "Both sides had accepted a new design. That of revision %d stays; plan again and accept, for it knows nothing of your edits.",
	"store.ids":            "The column id was written into the list: from now on a signal is followed by it, whatever its tag.",
	"store.nothing":        "Nothing to save: %s is revision %d of %s.",
	"store.behind":         "Saved since: %s. 'railwright revision main --into %s' brings them in.",
	"store.conflicts":      "Not joined: revision %d (%s) and your edits touch the same, %s. Nothing in %s was changed, and both versions are in the store: theirs is revision %d, yours revision %d.",
	"store.signal":         "subject",
	"store.column":         "column",
	"store.was":            "was",
	"store.mine":           "yours",
	"store.theirs":         "theirs",
	"store.whole":          "(whole file)",
	"store.removed":        "(taken out)",
	"store.decide":         "Decide, and save again with one of these added:",
	"store.decide_mine":    "yours is right everywhere",
	"store.decide_theirs":  "theirs is right everywhere",
	"store.decide_some":    "yours is right for these",
	"store.no_projects":    "The store holds no project yet.",
	"store.project":        "project",
	"store.name":           "name",
	"store.revisions":      "revisions",
	"store.revision":       "revision",
	"store.saved_at":       "saved (UTC)",
	"store.author":         "author",
	"store.note":           "note",
	"store.changed":        "changed",
	"store.aside":          "kept aside",
	"store.joins":          "joins %d and %d",
	"store.older":          "Older ones: --before %d.",
	"store.first":          "all",
	"store.title":          "Revision %d of %s, %s, by %s%s",
	"store.compared":       "Compared with revision %d:",
	"store.begins":         "It begins the project.",
	"store.same":           "Nothing differs.",
	"store.list":           "Signal list",
	"store.choices":        "Choices",
	"store.other_files":    "Other files that differ: %s.",
	"store.not_table":      "The signal list differs, but one of the two cannot be read as a table.",
	"store.added":          "added",
	"store.taken_out":      "taken out",
	"store.more_rows":      "... and %s more; --json lists all.",
	"store.wrote_revision": "Wrote revision %d of %s into %s: %s.",
	"store.is_there":       "%s is revision %d of %s already.",
	"store.backed_up":      "%s holds %s, %s, %s; %s, read back and sound.",
	"store.restored":       "%s holds %s, %s, %s.",
}
