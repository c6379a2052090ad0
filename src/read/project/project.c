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

/* --- sections given once ------------------------------------------------------------ */

static void read_project(struct reader *r)
{
    struct project *project = r->project;

    reader_enter(r, SECTION_PROJECT);
    project->title = reader_text(r, "title");
    project->make = reader_whole(r, "make", UNIT_NONE);
    project->worked = reader_choice(r, "worked");
    project->units = reader_choice(r, "units");
    project->units.value = project->units.value == 0 ? UNIT_INCH : UNIT_CM;
    project->no_stitch = reader_mark(r, "no stitch");
}

static void read_swatch(struct reader *r, enum section_kind kind, struct swatch *swatch)
{
    swatch->is_there = reader_enter(r, kind);
    swatch->at = reader_place(r);
    swatch->worked = reader_choice(r, "worked");
    if (!swatch->worked.said)
        swatch->worked.value = r->project->worked.value;
    swatch->washed = reader_yes(r, "washed");
    swatch->over = reader_length(r, "over");
    swatch->stitches = reader_counts(r, "stitches");
    swatch->rows = reader_counts(r, "rows");
    swatch->scale = reader_grams(r, "scale");
    for (int i = 0; i < SWATCH_TIMES_MAX; i++) {
        swatch->unravelled[i] = reader_unravelled(r, reader_again(r, "unravelled", i + 1));
        swatch->marked[i] = reader_marked(r, reader_again(r, "marked", i + 1));
        swatch->weight[i] = reader_weight(r, reader_again(r, "weight", i + 1));
        swatch->weighed[i] = reader_weighed(r, reader_again(r, "ball weighed", i + 1));
    }
    swatch->needle = reader_needle(r, "needle");
    swatch->pulls = reader_pulls(r, "pulls", kind == SECTION_SWATCH);
    swatch->size = reader_length(r, "size");
}

static void read_measure(struct reader *r)
{
    reader_enter(r, SECTION_MEASURE);
    r->project->around = reader_length(r, "around");
    r->project->width = reader_length(r, "width");
    r->project->ease = reader_ease(r, "ease");
    r->project->height = reader_length(r, "height");
    r->project->sizes = reader_sizes(r, "sizes");
    r->project->must_pass = reader_length(r, "must pass");
    r->project->counts = reader_choice(r, "counts");
}

static void read_cast_on(struct reader *r)
{
    struct cast_on *cast_on = &r->project->cast_on;

    reader_enter(r, SECTION_CAST_ON);
    cast_on->at = reader_place(r);
    cast_on->kind = reader_choice(r, "kind");
    cast_on->yarn = reader_yarn(r, "yarn");
    cast_on->purl_yarn = reader_yarn(r, "purl yarn");
    reader_rib(r, cast_on);
    reader_rib_stitches(r, cast_on);
}

static void read_float(struct reader *r)
{
    struct project *project = r->project;

    reader_enter(r, SECTION_FLOAT);
    project->leave_up_to = reader_length(r, "leave up to");
    project->catch_at = reader_length(r, "catch at");
    project->slack = reader_ratio(r, "slack");
    project->stagger = reader_whole(r, "stagger", UNIT_STITCH);
    project->spare_catches = reader_yes(r, "spare catches");
    project->placement = reader_choice(r, "placement");
    project->clear_ends = reader_whole(r, "clear ends", UNIT_STITCH);
    project->carry_up = reader_length(r, "carry up");
}

static void read_rest(struct reader *r)
{
    struct project *project = r->project;

    reader_enter(r, SECTION_EDGES);
    project->selvedge = reader_whole(r, "selvedge", UNIT_STITCH);
    project->steek = reader_whole(r, "steek", UNIT_STITCH);
    reader_bind_off(r, project);
    project->tail = reader_length(r, "tail");
    project->seam = reader_length(r, "seam");
    project->edges = reader_choice(r, "edges");
    reader_enter(r, SECTION_BUY);
    project->margin = reader_ratio(r, "margin");
    project->confidence = reader_ratio(r, "confidence");
    project->swatch_fate = reader_choice(r, "swatch");
    reader_enter(r, SECTION_WEIGHED);
    for (int i = 0; i < WEIGHINGS_MAX; i++)
        project->weighing[i] = reader_weighing(r, reader_again(r, "weighing", i + 1));
    project->not_yarn = reader_yarn_grams(r, "not yarn");
    project->weighed_scale = reader_grams(r, "scale");
    reader_enter(r, SECTION_PACE);
    project->pace_sts_per_hour = reader_whole(r, "stitches an hour", UNIT_STITCH);
    reader_enter(r, SECTION_WEARER);
    project->child = reader_yes(r, "child");
}

/* --- sections with names ------------------------------------------------------------ */

static int count_sections(const struct reader *r, enum section_kind a, enum section_kind b)
{
    int n = 0;

    for (int i = 0; i < r->ini->nsections; i++)
        n += r->sections[i].known && (r->sections[i].kind == a || r->sections[i].kind == b);
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

static void read_shade(struct reader *r, struct yarn *yarn)
{
    yarn->shade = reader_text(r, "shade");
    if (!yarn->shade.text || tables_shade(r->work->tables, yarn->shade.text, yarn->rgb))
        return;
    diag_add(r->work->diagnostics, DIAG_VALUE_FORM, yarn->shade.at,
             arena_printf(r->work->arena, "\"%s\" is no colour known here.", yarn->shade.text),
             "Write a colour's name, like ivory, or # and six digits or letters a to f, like "
             "#f3ead7.");
    yarn->shade.text = NULL;
}

/* Their names first: yarns refer to each other. */
static void name_yarns(struct reader *r)
{
    struct project *project = r->project;
    int room = count_sections(r, SECTION_YARN, SECTION_YARN), n = 0;

    project->yarns = arena_alloc(r->work->arena, (size_t)room, sizeof *project->yarns);
    for (int i = 0; i < r->ini->nsections; i++) {
        if (!r->sections[i].known || r->sections[i].kind != SECTION_YARN)
            continue;
        reader_enter_at(r, i);
        if (too_many(r, n++, GRID_YARNS_MAX, "yarns"))
            continue;
        project->yarns[project->nyarns].name = r->sections[i].name;
        project->yarns[project->nyarns++].at = reader_place(r);
    }
}

static void read_yarns(struct reader *r)
{
    for (int i = 0, n = 0; i < r->ini->nsections && n < r->project->nyarns; i++) {
        struct yarn *yarn = &r->project->yarns[n];

        if (!r->sections[i].known || r->sections[i].kind != SECTION_YARN)
            continue;
        reader_enter_at(r, i);
        yarn->mark = reader_mark(r, "mark");
        grey_of(n, yarn->rgb);
        read_shade(r, yarn);
        yarn->ball = reader_ball(r, "ball");
        yarn->have = reader_have(r, "have");
        yarn->duplicate_over = reader_yarn(r, "duplicate over");
        n++;
    }
}

static void read_band(struct reader *r, struct part *part)
{
    part->kind = PART_BAND;
    reader_charts(r, part);
    part->across = reader_whole(r, "across", UNIT_STITCH);
    part->repeats = reader_repeats(r, "repeats");
    part->upwards = reader_whole(r, "upwards", UNIT_NONE);
    part->before = reader_plain_rounds(r, "plain before");
    part->after = reader_plain_rounds(r, "plain after");
    part->must_pass = reader_length(r, "must pass");
    part->count = reader_choice(r, "count");
    part->remedy = reader_remedy(r, "remedy");
    part->begin = reader_stitch(r, "begin with");
}

static void read_plain(struct reader *r, struct part *part)
{
    part->kind = PART_PLAIN;
    part->yarn = reader_yarn(r, "yarn");
    part->length = reader_length(r, "length");
    part->rounds = reader_whole(r, "rounds", UNIT_ROW);
    if (part->rounds.value == 0)
        part->rounds = reader_whole(r, "rows", UNIT_ROW);
    part->stitches = reader_whole(r, "stitches", UNIT_STITCH);
    part->on_needle = reader_whole(r, "stitches on needle", UNIT_STITCH);
}

static void read_parts(struct reader *r)
{
    struct project *project = r->project;
    int room = count_sections(r, SECTION_BAND, SECTION_PLAIN), n = 0;

    project->parts = arena_alloc(r->work->arena, (size_t)room, sizeof *project->parts);
    for (int i = 0; i < r->ini->nsections; i++) {
        enum section_kind kind = r->sections[i].kind;
        struct part *part = &project->parts[project->nparts];

        if (!r->sections[i].known || (kind != SECTION_BAND && kind != SECTION_PLAIN))
            continue;
        reader_enter_at(r, i);
        if (too_many(r, n++, PROJECT_BANDS_MAX, "bands and plain parts"))
            continue;
        part->name = r->sections[i].name;
        part->at = reader_place(r);
        part->around = reader_measure(r, "around", &r->project->around, &part->share);
        part->width = reader_measure(r, "width", &r->project->width, &part->share);
        part->ease = reader_ease(r, "ease");
        part->yarn = reader_no_yarn(r);
        part->before.yarn = part->after.yarn = part->yarn;
        if (kind == SECTION_BAND)
            read_band(r, part);
        else
            read_plain(r, part);
        project->nparts++;
    }
}

static void read_tries(struct reader *r)
{
    struct project *project = r->project;
    int room = count_sections(r, SECTION_TRY, SECTION_TRY), n = 0;

    project->tries = arena_alloc(r->work->arena, (size_t)room, sizeof *project->tries);
    for (int i = 0; i < r->ini->nsections; i++) {
        struct try_gauge *one = &project->tries[project->ntries];

        if (!r->sections[i].known || r->sections[i].kind != SECTION_TRY)
            continue;
        reader_enter_at(r, i);
        if (too_many(r, n++, PROJECT_TRIES_MAX, "gauges to try"))
            continue;
        one->name = r->sections[i].name;
        one->at = reader_place(r);
        one->over = reader_length(r, "over");
        one->stitches = reader_counts(r, "stitches");
        one->rows = reader_counts(r, "rows");
        one->ball = reader_ball(r, "ball");
        one->needle = reader_needle(r, "needle");
        project->ntries++;
    }
}

static void read_ladder(struct reader *r)
{
    struct ladder_gauges *ladder = &r->project->ladder;

    ladder->is_there = reader_enter(r, SECTION_LADDER);
    ladder->at = reader_place(r);
    ladder->over = reader_length(r, "over");
    ladder->stitches = reader_counts(r, "stitches");
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

static void length_of_table(const struct tables *tables, const char *row, struct given_length *length)
{
    if (rational_is_value(length->in))
        return;
    length->in = tables_exact(tables, row);
    length->allowance = row;
}

static void ratio_of_table(const struct tables *tables, const char *row, struct given_ratio *ratio)
{
    if (rational_is_value(ratio->ratio))
        return;
    ratio->ratio = tables_exact(tables, row);
    ratio->allowance = row;
}

static void settle_limit(const struct tables *tables, struct project *project)
{
    if (rational_is_value(project->catch_at.in))
        return;
    if (!rational_is_value(project->leave_up_to.in))
        project->leave_up_to.at = project->swatch.at;
    length_of_table(tables, project->child.value ? "float_limit_child_in" : "float_limit_in",
                    &project->leave_up_to);
}

static void settle_slack(const struct tables *tables, struct given_ratio *slack)
{
    bool said = rational_is_value(slack->ratio);

    ratio_of_table(tables, "slack_default", slack);
    if (!said) /* the table has all of the strand, she the part over its width */
        slack->ratio = rational_sub(slack->ratio, rational_whole(1));
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

/* Defaults that are rows of a table, or that other keys give. */
static void settle(const struct tables *tables, struct project *project)
{
    struct given_whole *pace = &project->pace_sts_per_hour;
    bool measured =
        swatch_measures_yarn(&project->swatch) || swatch_measures_yarn(&project->swatch_plain);

    settle_limit(tables, project);
    settle_slack(tables, &project->slack);
    length_of_table(tables, "carry_wait_in", &project->carry_up);
    length_of_table(tables, "tail_in", &project->tail);
    ratio_of_table(tables, measured ? "margin_measured" : "margin_gauge_only", &project->margin);
    ratio_of_table(tables, "buy_confidence", &project->confidence);
    if (!pace->said) {
        pace->value = (int)lround(tables_value(tables, "pace_sts_per_hour"));
        pace->allowance = "pace_sts_per_hour";
    }
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
    read_project(&reader); /* first: its units hold for all that follows */
    name_yarns(&reader);
    read_yarns(&reader);
    read_swatch(&reader, SECTION_SWATCH, &project->swatch);
    read_swatch(&reader, SECTION_SWATCH_PLAIN, &project->swatch_plain);
    read_measure(&reader);
    read_cast_on(&reader);
    read_parts(&reader);
    read_float(&reader);
    read_rest(&reader);
    read_tries(&reader);
    read_ladder(&reader);
    reader_check_needs(&reader);
    settle(work->tables, project);
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
