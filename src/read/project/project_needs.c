/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a plan cannot do without. A section or key that is there but was refused, or that
 * another name was probably meant for, is not asked for again.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

/* --- sections ----------------------------------------------------------------------- */

static bool has_section(const struct reader *r, enum section_kind kind)
{
    if (r->suggested[kind])
        return true;
    for (int i = 0; i < r->ini->nsections; i++)
        if (r->sections[i].known && r->sections[i].kind == kind)
            return true;
    return false;
}

static void need_section(const struct reader *r, enum section_kind kind, const char *what,
                         const char *todo)
{
    if (!has_section(r, kind))
        diag_add(r->work->diagnostics, DIAG_SECTION_MISSING,
                 (struct place){.source = r->ini->source, .width = 1}, what, todo);
}

/* --- keys --------------------------------------------------------------------------- */

static bool has_key(const struct reader *r, const char *key)
{
    if (r->section < 0)
        return false;
    if (ini_find(r->ini, r->section, key))
        return true;
    for (int i = 0; i < r->ini->nentries; i++)
        if (r->ini->entries[i].section == r->section && r->meant[i] &&
            strcmp(r->meant[i], key) == 0)
            return true;
    return false;
}

static void missing(const struct reader *r, const char *what, const char *todo)
{
    diag_add(r->work->diagnostics, DIAG_KEY_MISSING, reader_place(r), what, todo);
}

static void need_key(const struct reader *r, const char *key, const char *what)
{
    if (!has_key(r, key))
        missing(r, what,
                arena_printf(r->work->arena, "Add a line like this: %s = %s.", key,
                             reader_units(r, key_facts_find(r->kind, key)->example, false)));
}

static const char *unit_words(const struct reader *r)
{
    return r->project->units.value == UNIT_CM ? "centimetres" : "inches";
}

static const char *over_words(const struct reader *r)
{
    return r->project->units.value == UNIT_CM ? "Write over = 10 cm, or over = 4 in."
                                              : "Write over = 4 in, or over = 10 cm.";
}

static void need_gauge(const struct reader *r)
{
    bool counts = has_key(r, "stitches") || has_key(r, "rows");

    if (!has_key(r, "over"))
        missing(r,
                arena_printf(r->work->arena, counts ? "These counts were taken over how many %s?"
                                                    : "The gauge was counted over how many %s?",
                             unit_words(r)),
                over_words(r));
    need_key(r, "stitches", "There are no stitch counts here.");
    need_key(r, "rows", "There are no row counts here.");
}

/* Both or neither: without them the yarn weights give the gauges. */
static void need_ladder(const struct reader *r)
{
    if (has_key(r, "stitches") && !has_key(r, "over"))
        missing(r, arena_printf(r->work->arena, "These counts are over how many %s?", unit_words(r)),
                over_words(r));
    else if (has_key(r, "over"))
        need_key(r, "stitches", "There are no stitch counts here.");
}

static void need_band(const struct reader *r)
{
    need_key(r, "chart",
             arena_printf(r->work->arena, "Which chart is the band %s worked from?",
                          r->sections[r->section].name));
}

/* A part in one yarn is so long, or so many rounds, or so many stitches: one of them. */
static void need_plain(const struct reader *r)
{
    static const char *const ways[] = {"length", "rounds", "rows", "stitches"};
    const char *first = NULL;

    need_key(r, "yarn", "Which yarn is this part in?");
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        const struct ini_entry *entry = ini_find(r->ini, r->section, ways[i]);

        if (entry && first)
            diag_add(r->work->diagnostics, DIAG_KEYS_CLASH, entry->key_at,
                     arena_printf(r->work->arena, "Both \"%s\" and \"%s\" say how large [%s] is.",
                                  first, ways[i], r->ini->sections[r->section].typed),
                     "Keep one of them.");
        if (entry && !first)
            first = ways[i];
    }
    for (size_t i = 0; i < sizeof ways / sizeof ways[0] && !first; i++)
        if (has_key(r, ways[i]))
            first = ways[i];
    if (!first)
        missing(r, "How large is this part?",
                reader_units(r, "Write length = 5 in, or rounds = 48, or stitches = 1850 for a heel or thumb.",
                             false));
}

/* A yarn that no other section names is there for a chart, and a chart needs its mark. */
static bool is_named(const struct project *project, int yarn)
{
    const struct cast_on *cast_on = &project->cast_on;

    for (int i = 0; i < project->nparts; i++) {
        const struct part *part = &project->parts[i];

        if (part->yarn.index == yarn || part->before.yarn.index == yarn ||
            part->after.yarn.index == yarn)
            return true;
    }
    return (cast_on->yarn.name && cast_on->yarn.index == yarn) ||
           cast_on->purl_yarn.index == yarn || project->bind_off_yarn.index == yarn;
}

static void need_marks(struct reader *r)
{
    for (int i = -1, n = 0;
         n < r->project->nyarns && reader_next(r, &i, SECTION_YARN, SECTION_YARN); n++)
        if (!is_named(r->project, n))
            need_key(r, "mark",
                     arena_printf(r->work->arena, "Which mark stands for %s in the chart?",
                                  r->sections[i].name));
}

/* `repeats` with a number (or refused: nothing more is asked for then). */
static bool has_repeats(const struct reader *r)
{
    const struct ini_entry *entry = ini_find(r->ini, r->section, "repeats");
    static const char fit[] = "fit";
    size_t k = 0;

    if (!entry || !entry->value)
        return entry != NULL;
    while (fit[k] && reader_small(entry->value[k]) == fit[k])
        k++;
    return fit[k] != entry->value[k];
}

/* A size: the measure, or every band has its own, or a number of repeats. */
static void need_measure(struct reader *r)
{
    bool flat = r->project->worked.value == WORKED_FLAT;
    const char *key = flat ? "width" : "around", *other = flat ? "around" : "width";
    bool any = false, all = true;

    for (int i = -1; all && reader_next(r, &i, SECTION_BAND, SECTION_BAND);) {
        any = true;
        all = has_repeats(r) || has_key(r, key) || has_key(r, other);
    }
    if (any && all)
        return;
    reader_enter(r, SECTION_MEASURE);
    if (r->section < 0)
        need_section(r, SECTION_MEASURE, "The finished measurement is missing.",
                     arena_printf(r->work->arena, "Write a section [measure] with %s = %s.", key,
                                  reader_units(r, flat ? "15 1/2 in" : "10 1/4 in", false)));
    else if (!has_key(r, key) && !has_key(r, other))
        need_key(r, key,
                 flat ? "How wide is the finished piece?" : "How far round is the finished piece?");
}

/* --- all of them -------------------------------------------------------------------- */

void reader_check_needs(struct reader *r)
{
    if (!r->any_gauge)
        need_section(r, SECTION_SWATCH, "There is no swatch.",
                     "Write a section [swatch] with over, stitches and rows.");
    need_section(r, SECTION_BAND, "There is no band.",
                 "Write a section [band NAME] with its chart.");
    need_section(r, SECTION_YARN, "There is no yarn.",
                 "Write a section [yarn NAME] for each yarn, with its mark.");
    for (int i = 0; i < r->ini->nsections; i++) {
        if (!r->sections[i].known)
            continue;
        reader_enter_at(r, i);
        if (r->kind == SECTION_SWATCH || r->kind == SECTION_SWATCH_PLAIN || r->kind == SECTION_TRY)
            need_gauge(r);
        else if (r->kind == SECTION_LADDER)
            need_ladder(r);
        else if (r->kind == SECTION_BAND)
            need_band(r);
        else if (r->kind == SECTION_PLAIN)
            need_plain(r);
    }
    need_marks(r);
    need_measure(r);
}
