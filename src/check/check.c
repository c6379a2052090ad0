/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <string.h>

#include "base/arena.h"
#include "base/tables.h"
#include "base/work.h"
#include "check_parts.h"

static void clash(struct work *work, struct place at, const char *what, const char *todo)
{
    diag_add(work->diagnostics, DIAG_KEYS_CLASH, at, what, todo);
}

/* --- round or flat ------------------------------------------------------------------ */

static void check_measure(struct work *work, bool flat, const struct given_length *around,
                          const struct given_length *width)
{
    if (flat && rational_is_value(around->in))
        clash(work, around->at, "The piece is worked flat: it has a width, and no way around.",
              "Write width = instead, or worked = round in [project].");
    if (!flat && rational_is_value(width->in))
        clash(work, width->at, "The piece is worked in the round: it needs the way around it.",
              "Write around = (twice the width measured flat), or worked = flat in [project].");
}

static void check_edges(struct work *work, const struct project *project, bool flat)
{
    bool steek = project->steek.value > 0;

    if (flat && steek)
        clash(work, project->steek.at, "A steek is cut in a tube, but the piece is worked flat.",
              "Take the steek out, or write worked = round in [project].");
    if (flat || steek)
        return;
    if (project->selvedge.value > 0)
        clash(work, project->selvedge.at,
              "The piece is worked in the round: it has no edge for selvedge stitches.",
              "Take selvedge out, or give the steek they stand beside, like this: steek = 7.");
    if (project->edges.value == EDGE_TURN)
        clash(work, project->edges.at,
              "The piece is worked in the round: there is no edge at which yarns turn.",
              "Take this line out, or give the steek, like this: steek = 7.");
}

static void check_pass(struct work *work, const struct given_length *must, bool flat, bool steek)
{
    if (rational_is_value(must->in) && flat)
        clash(work, must->at, "The piece is worked flat: nothing passes through it.",
              "Take \"must pass\" out, or write worked = round in [project].");
    if (rational_is_value(must->in) && !flat && steek)
        clash(work, must->at, "The piece is cut open at the steek: it need not stretch to pass.",
              "Take \"must pass\" out, or the steek.");
}

/* Sizes are graded from the plan's own measure. */
static void check_sizes(struct work *work, const struct project *project, bool flat)
{
    if (project->sizes.count == 0 || rational_is_value((flat ? project->width : project->around).in))
        return;
    diag_add(work->diagnostics, DIAG_KEY_MISSING, project->sizes.at,
             "Sizes are graded from the measure the plan itself is for, and there is none.",
             arena_printf(work->arena, "Write %s = %s in [measure], one of the sizes say.",
                          flat ? "width" : "around",
                          project->units.value == UNIT_CM ? (flat ? "39 cm" : "26 cm")
                                                          : (flat ? "15 1/2 in" : "10 1/4 in")));
}

/* --- keys that say the same, or depend on each other -------------------------------- */

static void check_limit(struct work *work, const struct project *project)
{
    const struct given_length *leave = &project->leave_up_to, *catch = &project->catch_at;
    bool catch_last = catch->at.line > leave->at.line;

    if (!rational_is_value(leave->in) || !rational_is_value(catch->in))
        return;
    clash(work, catch_last ? catch->at : leave->at,
          arena_printf(work->arena,
                       "\"leave up to\" (line %d) and \"catch at\" (line %d) both say which floats "
                       "are caught.",
                       leave->at.line, catch->at.line),
          "Keep one: a float of just that length is left by \"leave up to\", caught by \"catch "
          "at\".");
}

static void check_cast_on(struct work *work, const struct project *project)
{
    const struct cast_on *cast_on = &project->cast_on;
    /* A rib that was refused has a place of its own; one that is not there has the section's. */
    bool rib = cast_on->rib_rounds > 0 || cast_on->rib.at.line != cast_on->at.line;
    const char *todo = "Give the rib, like this: rib = knit 2 purl 2, 12 rounds. Or take this "
                       "line out.";

    if (rib)
        return;
    if (cast_on->stitches_kind == RIB_COUNT)
        clash(work, cast_on->stitches.at, "There are rib stitches, but there is no rib.", todo);
    if (cast_on->stitches_kind == RIB_RATIO)
        clash(work, cast_on->ratio.at, "There are rib stitches, but there is no rib.", todo);
    if (cast_on->purl_yarn.name)
        clash(work, cast_on->purl_yarn.at, "There is a yarn for the purls, but there is no rib.",
              todo);
}

/* One thing only may say how many stitches a band has. */
static void check_band_count(struct work *work, const struct part *part, bool first, bool rib)
{
    struct arena *arena = work->arena;
    bool below = part->count.value == COUNT_AS_BELOW;

    if (part->remedy.word != REMEDY_NONE && part->repeats.value > 0)
        clash(work, part->remedy.at,
              arena_printf(arena, "Both \"repeats\" and \"remedy\" say how many stitches %s has.",
                           part->name),
              part->remedy.word == REMEDY_ANOTHER_COUNT && part->remedy.repeats > 0
                  ? arena_printf(arena,
                                 "Write repeats = %d, and take remedy out: it says no more than that.",
                                 part->remedy.repeats)
                  : "Keep one of them: a remedy goes with repeats = fit.");
    if (below && (part->remedy.word != REMEDY_NONE || part->repeats.value > 0))
        clash(work, part->count.at,
              arena_printf(arena, "Both \"count\" and \"%s\" say how many stitches %s has.",
                           part->remedy.word != REMEDY_NONE ? "remedy" : "repeats", part->name),
              "Keep one of them.");
    if (below && first)
        clash(work, part->count.at,
              arena_printf(arena, "There is no part below %s whose count it could take.", part->name),
              rib ? "Take this line out; to have it on one count with the rib, write rib stitches = same."
                  : "Take this line out.");
}

static void check_part(struct work *work, const struct part *part)
{
    if (part->kind != PART_PLAIN || part->on_needle.value == 0 ||
        !(rational_is_value(part->around.in) || rational_is_value(part->width.in)))
        return;
    clash(work, part->on_needle.at,
          arena_printf(work->arena,
                       "Both a measure and \"stitches on needle\" say how many stitches %s has.",
                       part->name),
          "Keep one of them.");
}

static void check_bind_off(struct work *work, const struct project *project)
{
    if (project->bind_off.value == BIND_OFF_NONE && project->bind_off_yarn.name)
        clash(work, project->bind_off_yarn.at, "Nothing is bound off, so no yarn is needed for it.",
              "Write bind-off = none, or name the bind-off: standard, sewn or cord.");
}

static void check_unravelled(struct work *work, const struct given_unravelled *row)
{
    if (row->row_sts > 0 && row->stranded && row->yarn[0].index >= 0 &&
        row->yarn[0].index == row->yarn[1].index)
        clash(work, row->yarn[1].at, "Both yarns of the unravelled row are the same one.",
              "Name the two yarns of the row, each with its stitches and what it took.");
}

/* --- a size that only a child wears, in a project that does not say so ----------------- */

/* Judgement: from fourteen on a hand is as large as a grown one. */
enum { CHILD_AGE_MOST = 13, WORD_MAX = 24 };

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* The next word or number of the name, in small letters; "": none. */
static const char *next_word(const char *at, char word[WORD_MAX])
{
    size_t n = 0;

    while (*at && !is_letter(*at) && !is_digit(*at))
        at++;
    for (bool digits = is_digit(*at); *at && (digits ? is_digit(*at) : is_letter(*at)); at++)
        if (n + 1 < WORD_MAX)
            word[n++] = *at >= 'A' && *at <= 'Z' ? (char)(*at - 'A' + 'a') : *at;
    word[n] = '\0';
    return at;
}

static bool is_one_of(const char *word, const char *const *words)
{
    for (; *words; words++)
        if (strcmp(word, *words) == 0)
            return true;
    return false;
}

static int number_of(const char *word)
{
    int number = 0;

    for (; is_digit(*word) && number < 1000; word++)
        number = 10 * number + *word - '0';
    return number;
}

/* "toddler", "age 4", "6 years", "18 months"; an age over CHILD_AGE_MOST is none. */
static bool is_childs(const char *name)
{
    static const char *const children[] = {"child",  "children", "childs", "kid",     "kids",   "toddler",
                                           "toddlers", "baby",   "babies", "infant",  "newborn",
                                           "preemie", "boy",    "girl",    "months", "month", NULL};
    static const char *const ages[] = {"age", "aged", "ages", "year", "years", "yr", "yrs", NULL};
    char word[WORD_MAX];
    int number = -1;
    bool age = false;

    for (name = next_word(name, word); *word; name = next_word(name, word)) {
        if (is_one_of(word, children))
            return true;
        age = age || is_one_of(word, ages);
        if (is_digit(*word) && number < 0)
            number = number_of(word);
    }
    return age && number >= 0 && number <= CHILD_AGE_MOST;
}

/* A limit as short as a child's. */
static bool is_short(struct work *work, const struct given_length *limit)
{
    return rational_is_value(limit->in) &&
           rational_double(limit->in) <= tables_value(work->tables, "float_limit_child_in");
}

static void check_child(struct work *work, const struct project *project)
{
    const struct given_sizes *sizes = &project->sizes;

    if (sizes->count == 0 || project->child.said || is_short(work, &project->leave_up_to) ||
        is_short(work, &project->catch_at))
        return;
    for (int i = 0; i < sizes->count; i++) {
        if (!is_childs(sizes->name[i]))
            continue;
        diag_add(work->diagnostics, DIAG_CHILD_UNSAID, sizes->at,
                 arena_printf(work->arena,
                              "The size %s sounds like a child's, and all sizes share one float limit, "
                              "that of grown people.",
                              sizes->name[i]),
                 "Write [wearer] and below it child = yes: small fingers and toes catch in long strands. "
                 "The shorter limit then holds for all sizes; or plan the children's in a project of their "
                 "own. With child = no nothing is said.");
        return;
    }
}

/* --- all of it ---------------------------------------------------------------------- */

void check_project(struct work *work, const struct project *project,
                   const struct chart *const *charts)
{
    bool flat = project->worked.value == WORKED_FLAT;

    check_yarns(work, project);
    check_measure(work, flat, &project->around, &project->width);
    for (int i = 0; i < project->nparts; i++) {
        check_measure(work, flat, &project->parts[i].around, &project->parts[i].width);
        check_part(work, &project->parts[i]);
        check_pass(work, &project->parts[i].must_pass, flat, project->steek.value > 0);
        if (project->parts[i].kind == PART_BAND)
            check_band_count(work, &project->parts[i], i == 0, project->cast_on.rib_rounds > 0);
    }
    check_pass(work, &project->must_pass, flat, project->steek.value > 0);
    check_sizes(work, project, flat);
    check_edges(work, project, flat);
    check_limit(work, project);
    check_cast_on(work, project);
    check_bind_off(work, project);
    for (int i = 0; i < SWATCH_TIMES_MAX; i++)
        check_unravelled(work, &project->swatch.unravelled[i]);
    check_gauge(work, project);
    check_weighed(work, project);
    check_child(work, project);
    check_charts(work, project, charts);
}
