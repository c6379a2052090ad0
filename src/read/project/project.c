/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/tables.h"
#include "base/work.h"
#include "project_reader.h"

int project_yarn_find(const struct project *project, const char *name)
{
    for (int i = 0; i < project->nyarns; i++)
        if (strcmp(project->yarns[i].name, name) == 0)
            return i;
    for (int i = 0; i < project->nyarns; i++)
        if (reader_same(project->yarns[i].name, name))
            return i;
    return -1;
}

/* --- sections with names ------------------------------------------------------------ */

static int count_sections(struct reader *r, enum section_kind a, enum section_kind b)
{
    int n = 0;

    for (int i = -1; reader_next(r, &i, a, b);)
        n++;
    return n;
}

/* true: this one is one too many, and was reported. */
static bool too_many(const struct reader *r, int n, int limit, const char *what)
{
    if (n < limit)
        return false;
    if (n == limit)
        diag_add(r->work->diagnostics, DIAG_VALUE_RANGE, reader_place(r),
                 arena_printf(r->work->arena, "There are more than %d %s.", limit, what),
                 "Leave some out.");
    return true;
}

/* A grey for a yarn without a shade, neighbours well apart. */
static void grey_of(int index, unsigned char rgb[3])
{
    static const unsigned char levels[] = {235, 60, 150, 100, 195, 30, 215, 80};

    memset(rgb, levels[(size_t)index % sizeof levels], 3);
}

/* Their names first: yarns refer to each other, and other sections to them. */
static void name_yarns(struct reader *r)
{
    struct project *project = r->project;
    int room = count_sections(r, SECTION_YARN, SECTION_YARN), n = 0;

    project->yarns = arena_alloc(r->work->arena, (size_t)room, sizeof *project->yarns);
    for (int i = -1; reader_next(r, &i, SECTION_YARN, SECTION_YARN);) {
        if (too_many(r, n++, GRID_YARNS_MAX, "yarns"))
            continue;
        project->yarns[project->nyarns].name = r->sections[i].name;
        project->yarns[project->nyarns++].at = reader_place(r);
    }
}

static void read_yarns(struct reader *r)
{
    for (int i = -1, n = 0;
         n < r->project->nyarns && reader_next(r, &i, SECTION_YARN, SECTION_YARN); n++) {
        grey_of(n, r->project->yarns[n].rgb);
        reader_section(r, &r->project->yarns[n]);
    }
}

static void read_parts(struct reader *r)
{
    struct project *project = r->project;
    int room = count_sections(r, SECTION_BAND, SECTION_PLAIN), n = 0;

    project->parts = arena_alloc(r->work->arena, (size_t)room, sizeof *project->parts);
    for (int i = -1; reader_next(r, &i, SECTION_BAND, SECTION_PLAIN);) {
        struct part *part = &project->parts[project->nparts];

        if (too_many(r, n++, PROJECT_BANDS_MAX, "bands and plain parts"))
            continue;
        project->nparts++;
        part->kind = r->kind == SECTION_BAND ? PART_BAND : PART_PLAIN;
        part->name = r->sections[i].name;
        part->at = reader_place(r);
        part->yarn = part->before.yarn = part->after.yarn = reader_no_yarn(r);
        reader_section(r, part);
    }
}

static void read_tries(struct reader *r)
{
    struct project *project = r->project;
    int room = count_sections(r, SECTION_TRY, SECTION_TRY), n = 0;

    project->tries = arena_alloc(r->work->arena, (size_t)room, sizeof *project->tries);
    for (int i = -1; reader_next(r, &i, SECTION_TRY, SECTION_TRY);) {
        struct try_gauge *one = &project->tries[project->ntries];

        if (too_many(r, n++, PROJECT_TRIES_MAX, "gauges to try"))
            continue;
        project->ntries++;
        one->name = r->sections[i].name;
        one->at = reader_place(r);
        reader_section(r, one);
    }
}

/* --- sections given once ------------------------------------------------------------ */

/* Whether it is there, and where. */
static bool read_alone(struct reader *r, enum section_kind kind, struct place *at)
{
    bool is_there = reader_enter(r, kind);

    *at = reader_place(r);
    reader_section(r, r->project);
    return is_there;
}

static void read_sections(struct reader *r)
{
    struct project *project = r->project;
    struct place at;

    read_alone(r, SECTION_PROJECT, &at); /* first: its units hold for all that follows */
    project->units.value = project->units.value == 0 ? UNIT_INCH : UNIT_CM;
    name_yarns(r);
    read_yarns(r);
    project->bind_off_yarn.index = -1;
    project->swatch.is_there = read_alone(r, SECTION_SWATCH, &project->swatch.at);
    project->swatch_plain.is_there = read_alone(r, SECTION_SWATCH_PLAIN, &project->swatch_plain.at);
    read_alone(r, SECTION_MEASURE, &at); /* before the parts, which may be a share of it */
    read_alone(r, SECTION_CAST_ON, &project->cast_on.at);
    read_parts(r);
    for (int kind = SECTION_FLOAT; kind <= SECTION_WEARER; kind++)
        read_alone(r, (enum section_kind)kind, &at);
    read_tries(r);
    project->ladder.is_there = read_alone(r, SECTION_LADDER, &project->ladder.at);
}

/* --- what was not said -------------------------------------------------------------- */

bool swatch_measures_yarn(const struct swatch *swatch)
{
    for (int i = 0; i < SWATCH_TIMES_MAX; i++)
        if (swatch->unravelled[i].row_sts > 0 || swatch->marked[i].row_sts > 0 ||
            swatch->weight[i].rows > 0 || swatch->weighed[i].all_sts > 0)
            return true;
    return false;
}

/* The n-th {row} of a default, "{row - 1}" for one less; NULL: it does not begin with one. */
static const char *default_row(struct arena *arena, const char *fallback, int n, bool *less)
{
    const char *row = fallback;
    size_t length;

    if (*row != '{')
        return NULL;
    for (; n > 0; n--)
        row = strchr(row + 1, '{');
    length = strcspn(row + 1, " }");
    *less = row[1 + length] == ' ';
    return arena_strndup(arena, row + 1, length);
}

/* Which {row} of a default that has two. */
static int row_wanted(const struct project *project, const struct key_facts *key)
{
    bool measured =
        swatch_measures_yarn(&project->swatch) || swatch_measures_yarn(&project->swatch_plain);

    return (strcmp(key->key, "leave up to") == 0 && project->child.value) ||
           (strcmp(key->key, "margin") == 0 && !measured);
}

static void put_row(enum form_id form, struct rational exact, const char *row, void *value)
{
    struct given_length *length = value;
    struct given_ratio *ratio = value;
    struct given_whole *whole = value;

    if (form == FORM_LENGTH && !rational_is_value(length->in)) {
        length->in = exact;
        length->allowance = row;
    } else if (form == FORM_RATIO && !rational_is_value(ratio->ratio)) {
        ratio->ratio = exact;
        ratio->allowance = row;
    } else if (form == FORM_STITCHES && !whole->said) {
        whole->value = (int)lround(rational_double(exact));
        whole->allowance = row;
    }
}

/* Defaults that are rows of a table. */
static void settle_rows(struct work *work, struct project *project)
{
    for (int i = 0; i < key_facts_count(); i++) {
        const struct key_facts *key = key_facts_at(i);
        bool less = false;
        const char *row =
            default_row(work->arena, key->fallback, row_wanted(project, key), &less);
        struct rational exact;

        if (!row || section_facts(key->section)->named)
            continue;
        exact = tables_exact(work->tables, row);
        put_row(key->form, less ? rational_sub(exact, rational_whole(1)) : exact, row,
                (char *)project + key->offset);
    }
}

static void settle_ease(struct project *project)
{
    bool length = rational_is_value(project->ease.value) && !project->ease.is_ratio;

    for (int i = 0; i < project->nparts; i++) {
        struct part *part = &project->parts[i];

        part->shares_ease = length && rational_is_value(part->share.ratio) &&
                            !rational_is_value(part->ease.value);
        if (!rational_is_value(part->ease.value))
            part->ease = project->ease;
    }
}

static void settle_yarn(struct project *project)
{
    struct given_yarn *yarn = &project->cast_on.yarn;

    if (yarn->name)
        return;
    yarn->index = 0;
    while (yarn->index < project->nyarns && project->yarns[yarn->index].duplicate_over.name)
        yarn->index++;
    if (yarn->index == project->nyarns)
        yarn->index = 0;
}

/* Where floats are caught at a length of hers, no other limits them. */
static void settle_limit(const struct project *project, struct given_length *limit)
{
    if (rational_is_value(project->catch_at.in) && limit->allowance)
        *limit = (struct given_length){.at = limit->at};
    else if (limit->allowance)
        limit->at = project->swatch.at;
}

static void settle_swatch(const struct project *project, struct swatch *swatch)
{
    if (!swatch->worked.said)
        swatch->worked.value = project->worked.value;
}

/* Defaults that are rows of a table, or that other keys give. */
static void settle(struct work *work, struct project *project)
{
    settle_rows(work, project);
    settle_limit(project, &project->leave_up_to);
    settle_swatch(project, &project->swatch);
    settle_swatch(project, &project->swatch_plain);
    settle_ease(project);
    settle_yarn(project);
}

/* --- the whole ---------------------------------------------------------------------- */

static const struct project *read_source(struct work *work, const struct source *source,
                                         bool any_gauge)
{
    struct project *project = arena_alloc(work->arena, 1, sizeof *project);
    struct reader reader = {
        .work = work, .ini = ini_read(work, source), .project = project, .section = -1,
        .any_gauge = any_gauge};

    project->source = source;
    reader_know(&reader);
    read_sections(&reader);
    reader_check_needs(&reader);
    settle(work, project);
    return project;
}

const struct project *project_read_source(struct work *work, const struct source *source)
{
    return read_source(work, source, false);
}

static const struct project *read_path(struct work *work, const char *path, bool any_gauge)
{
    const struct source *source =
        source_read(work, path, SOURCE_TEXT, PROJECT_BYTES_MAX, (struct place){0});

    return source ? read_source(work, source, any_gauge) : NULL;
}

const struct project *project_read(struct work *work, const char *path)
{
    return read_path(work, path, false);
}

const struct project *project_read_any_gauge(struct work *work, const char *path)
{
    return read_path(work, path, true);
}
