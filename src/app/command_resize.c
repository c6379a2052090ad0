/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * strandwise resize: a chart redrawn for another gauge.
 */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/number.h"
#include "base/outfile.h"
#include "base/tables.h"
#include "command.h"
#include "model/gauge.h"
#include "model/sizing.h"
#include "resize_report.h"

static const int64_t GAUGE_MOST = 30, GAUGE_LEAST = 1; /* to the inch, stitches or rows */

/* --- the command line ---------------------------------------------------------------------- */

static bool read_length(const char *text, struct rational *inches)
{
    struct quantity quantity;
    size_t fault;

    if (quantity_read(text, strlen(text), &quantity, &fault) != NUMBER_OK || quantity.unit == UNIT_NONE)
        return false;
    *inches = quantity_inches(quantity, UNIT_INCH);
    return rational_is_value(*inches) && rational_sign(*inches) > 0 &&
           rational_compare(*inches, rational_whole(10000)) <= 0;
}

static bool gauge_can_be(struct rational per_in)
{
    return rational_is_value(per_in) && rational_compare(per_in, rational_whole(GAUGE_LEAST)) >= 0 &&
           rational_compare(per_in, rational_whole(GAUGE_MOST)) <= 0;
}

static enum run_status gauge_from_words(const struct arguments *arguments, struct resize_job *job)
{
    struct quantity list[2];
    struct rational over_in;
    size_t fault;
    int n = 0;

    if (!arguments->over || !read_length(arguments->over, &over_in))
        return command_usage("--gauge needs the length it is counted over: --over '4 in' or '10 cm'.");
    if (quantity_list_read(arguments->gauge, strlen(arguments->gauge), list, NULL, 2, &n, &fault) !=
            NUMBER_OK ||
        n != 2 || list[0].unit != UNIT_STITCH || list[1].unit != UNIT_ROW)
        return command_usage("--gauge takes stitches and rows, such as '26 sts, 34 rows', not %s.",
                             arguments->gauge);
    job->per_in = rational_div(list[0].value, over_in);
    job->rows_per_in = rational_div(list[1].value, over_in);
    if (!gauge_can_be(job->per_in) || !gauge_can_be(job->rows_per_in))
        return command_usage("--gauge %s over %s is no gauge that can be knitted: 1 to 30 stitches and "
                             "rows to the inch (4 to 118 to 10 cm).",
                             arguments->gauge, arguments->over);
    return RUN_DONE;
}

static enum run_status gauge_from_try(const struct arguments *arguments, struct resize_job *job)
{
    const struct plan *plan = job->plan;
    const struct gauge *gauge = NULL;

    for (int i = 0; i < plan->ntries; i++)
        if (strcmp(plan->tries[i].name, arguments->try_name) == 0)
            gauge = &plan->tries[i].piece.gauge.gauge;
    if (!gauge)
        return command_usage("the project has no [try %s]: write one, or give --gauge and --over.",
                             arguments->try_name);
    job->per_in = gauge->stitches.per_in;
    job->rows_per_in = gauge->rows.per_in;
    if (!gauge_can_be(job->per_in) || !gauge_can_be(job->rows_per_in))
        return command_usage("[try %s] needs stitches and rows: give both there, or --gauge and --over.",
                             arguments->try_name);
    return RUN_DONE;
}

static enum run_status read_count(const char *option, const char *text, int *count)
{
    struct quantity quantity;
    size_t fault;

    *count = 0;
    if (!text)
        return RUN_DONE;
    if (quantity_read(text, strlen(text), &quantity, &fault) != NUMBER_OK || quantity.value.den != 1 ||
        quantity.value.num < 1 || quantity.value.num > RESIZE_SIDE_MAX ||
        (quantity.unit != UNIT_NONE && quantity.unit != UNIT_STITCH && quantity.unit != UNIT_ROW))
        return command_usage("%s takes a whole number from 1 to %d, not %s.", option, RESIZE_SIDE_MAX, text);
    *count = (int)quantity.value.num;
    return RUN_DONE;
}

static enum run_status read_request(const struct arguments *arguments, struct resize_job *job)
{
    enum run_status status = read_count("--columns", arguments->columns, &job->ncols);

    if (status == RUN_DONE)
        status = read_count("--rows", arguments->rows, &job->nrows);
    if (status != RUN_DONE)
        return status;
    if (arguments->gauge && arguments->try_name)
        return command_usage("give --gauge or --try, not both.");
    if (!arguments->gauge && !arguments->try_name && !arguments->columns && !arguments->rows)
        return command_usage("give the new gauge: --gauge '26 sts, 34 rows' --over '4 in', or --try NAME; or, at "
                             "the gauge as it is, another number of stitches or rows: --columns 14.");
    if (arguments->around && !read_length(arguments->around, &job->target_in))
        return command_usage("--around takes a length with its unit, such as '10 1/2 in', not %s.",
                             arguments->around);
    if (command_refuses_name(arguments, "a redrawn chart", "chart or txt"))
        return RUN_USAGE;
    return arguments->gauge ? gauge_from_words(arguments, job) : RUN_DONE;
}

/* --- the band ------------------------------------------------------------------------------ */

static enum run_status choose_band(struct work *work, const struct arguments *arguments,
                                   struct resize_job *job)
{
    const struct plan_piece *piece = &job->plan->piece;

    if (!arguments->band && piece->nbands > 1) {
        struct text list = text_create(work->arena);

        for (int i = 0; i < piece->nbands; i++)
            text_addf(&list, "%s%s", i == 0 ? "" : i + 1 < piece->nbands ? ", " : " or ",
                      piece->bands[i].name);
        return command_usage("the project has several bands: add --band %s.", list.bytes);
    }
    for (int i = 0; i < piece->nbands; i++)
        if (!arguments->band || strcmp(piece->bands[i].name, arguments->band) == 0)
            job->band = &piece->bands[i];
    return job->band ? RUN_DONE : command_unknown_band(work, job->plan, arguments->band);
}

static bool has_empty_squares(const struct grid *grid)
{
    for (int i = 0; i < grid->ncols * grid->nrows; i++)
        if (grid->cell[i] == GRID_NO_STITCH)
            return true;
    return false;
}

static enum run_status judge_chart(const struct resize_job *job)
{
    const struct grid *drawn = &job->band->drawn;

    if (drawn->ncols > RESIZE_SIDE_MAX || drawn->nrows > RESIZE_SIDE_MAX)
        return command_usage("the chart of %s has %d stitches and %d rows; up to %d of each are redrawn.",
                             job->band->name, drawn->ncols, drawn->nrows, RESIZE_SIDE_MAX);
    if (has_empty_squares(drawn))
        return command_usage("the chart of %s has empty squares: shaping is not redrawn. Chart one repeat "
                             "without it.",
                             job->band->name);
    return RUN_DONE;
}

/* What the piece measures now, where nothing else is asked for. */
static void target_set(struct resize_job *job)
{
    const struct plan_band *band = job->band;

    if (rational_is_value(job->target_in) && rational_sign(job->target_in) > 0)
        return;
    job->target_in = rational_div(band->has_target && !band->repeats_given
                                      ? band->target_sts
                                      : rational_whole(band->stitches + band->side_sts),
                                  job->old_per_in);
}

/* --- sizes --------------------------------------------------------------------------------- */

static struct resize_way way_of(const struct resize_job *job, int ncols)
{
    int side = job->band->side_sts;
    struct rational target = rational_mul(job->target_in, job->per_in);
    struct resize_way way = {.ncols = ncols};

    way.repeats = (sizing_nearest_multiple(target, ncols, side) - side) / ncols;
    way.stitches = way.repeats * ncols + side;
    way.finished_in = (double)way.stitches / rational_double(job->per_in);
    way.off_part = way.finished_in / rational_double(job->target_in) - 1.0;
    way.wide_part = ncols / rational_double(job->exact_cols) - 1.0;
    return way;
}

static double away(const struct resize_way *way)
{
    double off = way->off_part < 0 ? -way->off_part : way->off_part;
    double wide = way->wide_part < 0 ? -way->wide_part : way->wide_part;

    return off + wide;
}

/* Into its place among the ways from `from` on, the least wrong first; the last may fall out. */
static void way_insert(struct resize_job *job, struct resize_way way, int from)
{
    int at = job->nways < RESIZE_WAYS_MAX ? job->nways++ : RESIZE_WAYS_MAX;

    while (at > from && away(&way) < away(&job->ways[at - 1])) {
        if (at < RESIZE_WAYS_MAX)
            job->ways[at] = job->ways[at - 1];
        at--;
    }
    if (at < RESIZE_WAYS_MAX)
        job->ways[at] = way;
}

/* The counts that keep every symmetry within a tenth of the true width, the one that is least
 * wrong in its own width and in the piece's first; a count she gave before all others. */
static void ways_set(struct resize_job *job)
{
    const struct grid *old = &job->band->drawn;
    struct motif motif = motif_find(old, job->question.rows_are_ring);
    double exact = rational_double(job->exact_cols);
    int ncols, nrows;

    resize_counts(old, job->question.rows_are_ring, job->exact_cols, job->exact_rows, &ncols, &nrows);
    way_insert(job, way_of(job, job->ncols > 0 ? job->ncols : ncols), 0);
    ncols = job->ways[0].ncols;
    for (int n = (int)(exact * 0.9); n <= exact * 1.1; n++)
        if (n >= exact * 0.9 && n != ncols &&
            motif_count_near(&motif, true, old->ncols, rational_whole(n), rational_whole(0)) == n)
            way_insert(job, way_of(job, n), job->ncols > 0 ? 1 : 0);
    job->question.ncols = job->ways[0].ncols;
    job->question.nrows = job->nrows > 0 ? job->nrows : nrows;
}

static enum run_status judge_size(const struct resize_job *job)
{
    double wide = rational_double(job->exact_cols), tall = rational_double(job->exact_rows);
    struct rational most = rational_mul(job->target_in, job->per_in);

    if ((job->ncols == 0 && wide < 1.0) || (job->nrows == 0 && tall < 1.0))
        return command_usage("at that gauge the motif would be %.2g stitches by %.2g rows: nothing of it is "
                             "left. Give a finer gauge, or --columns and --rows.",
                             wide, tall);
    if (wide > RESIZE_SIDE_MAX || tall > RESIZE_SIDE_MAX)
        return command_usage("at that gauge the motif would be %.0f stitches by %.0f rows; up to %d of each "
                             "are drawn.",
                             wide, tall, RESIZE_SIDE_MAX);
    if (rational_compare(most, rational_whole(job->ncols > 0 ? job->ncols : 1)) < 0)
        return command_usage("a repeat of %d stitches is wider than the piece, which has %lld at that gauge: "
                             "give at most --columns %lld.",
                             job->ncols > 0 ? job->ncols : 1, (long long)rational_floor(most),
                             (long long)(rational_floor(most) > 0 ? rational_floor(most) : 1));
    return RUN_DONE;
}

static int leave_sts(struct work *work, const struct project *project, const struct plan *plan,
                     struct rational per_in)
{
    const char *key = plan->child ? "float_limit_child_in" : "float_limit_in";
    struct rational limit =
        rational_make((int64_t)(tables_value(work->tables, key) * 1e6 + 0.5), 1000000);
    int64_t leave;

    if (project->catch_at.given)
        leave = gauge_catch_at_sts(project->catch_at.in, per_in);
    else
        leave = gauge_leave_up_to_sts(project->leave_up_to.given ? project->leave_up_to.in : limit, per_in);
    return leave < 1 ? 1 : leave > RESIZE_SIDE_MAX ? RESIZE_SIDE_MAX : (int)leave;
}

/* --- side stitches --------------------------------------------------------------------------- */

/* The column of the old repeat that a side stitch goes on with; -1: it is something of its own. */
static int goes_on_with(const struct grid *repeat, const struct grid *side, int column, int as)
{
    as = (as % repeat->ncols + repeat->ncols) % repeat->ncols;
    for (int r = 0; r < side->nrows; r++)
        if (side->cell[r * side->ncols + column] != repeat->cell[r * repeat->ncols + as])
            return -1;
    return as;
}

/* As many side stitches as before. Those that go on with the repeat do so again; of the others
 * each row shows the old row under its middle. */
static struct grid side_redrawn(const struct resize_job *job, const struct grid *side, bool at_left)
{
    const struct grid *old = &job->band->drawn, *chart = &job->answer->chart;
    uint8_t *cell = arena_alloc(job->work->arena, (size_t)side->ncols * (size_t)chart->nrows, 1);

    for (int c = 0; c < side->ncols; c++) {
        int from = at_left ? c : c - side->ncols;
        int as = goes_on_with(old, side, c, from);
        int now = (from % chart->ncols + chart->ncols) % chart->ncols;

        for (int r = 0; r < chart->nrows; r++) {
            int row = (2 * r + 1) * old->nrows / (2 * chart->nrows);

            cell[r * side->ncols + c] = as >= 0 ? chart->cell[r * chart->ncols + now]
                                                : side->cell[row * side->ncols + c];
        }
    }
    return (struct grid){chart->nrows, side->ncols, cell};
}

/* --- all of it ------------------------------------------------------------------------------- */

static bool mark_is_free(const struct resize_job *job, const char *mark)
{
    for (int y = 0; y < job->plan->piece.nyarns; y++)
        if (job->mark[y] && strcmp(job->mark[y], mark) == 0)
            return false;
    return true;
}

/* Yarns of pictures need none: a letter of theirs, or the next free one. */
static void marks_set(struct resize_job *job)
{
    const struct plan_piece *piece = &job->plan->piece;

    for (int y = 0; y < piece->nyarns; y++)
        if (piece->yarns[y].mark && *piece->yarns[y].mark)
            job->mark[y] = piece->yarns[y].mark;
    for (int y = 0; y < piece->nyarns; y++) {
        const char *letters =
            arena_printf(job->work->arena, "%sabcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ",
                         piece->yarns[y].name);

        for (const char *at = letters; !job->mark[y] && *at; at++) {
            const char *mark = arena_strndup(job->work->arena, at, 1);

            if (*at > ' ' && *at < 0x7f && !strchr(";|-#0123456789", *at) && mark_is_free(job, mark)) {
                job->mark[y] = mark;
                job->mark_chosen[y] = true;
            }
        }
    }
}

static enum run_status redraw(struct work *work, const struct arguments *arguments, struct resize_job *job,
                              const struct project *project)
{
    const struct plan_piece *piece = &job->plan->piece;
    const struct grid *drawn = &job->band->drawn;
    enum run_status status = judge_chart(job);

    if (status == RUN_DONE && arguments->try_name)
        status = gauge_from_try(arguments, job);
    if (status != RUN_DONE)
        return status;
    job->old_per_in = piece->gauge.gauge.stitches.per_in;
    job->old_rows_per_in = piece->gauge.gauge.rows.per_in;
    if (!arguments->gauge && !arguments->try_name) { /* another number of stitches, the gauge as it is */
        job->per_in = job->old_per_in;
        job->rows_per_in = job->old_rows_per_in;
    }
    target_set(job);
    job->exact_cols = rational_div(rational_mul(rational_whole(drawn->ncols), job->per_in), job->old_per_in);
    job->exact_rows =
        rational_div(rational_mul(rational_whole(drawn->nrows), job->rows_per_in), job->old_rows_per_in);
    if (!rational_is_value(job->exact_cols) || !rational_is_value(job->exact_rows))
        return command_usage("these counts are too fine to be kept exactly: give quarters or eighths.");
    status = judge_size(job);
    if (status != RUN_DONE)
        return status;
    job->question.old = drawn;
    job->question.rows_are_ring = job->band->upwards > 1;
    job->question.old_leave_sts = job->band->leave_sts;
    job->question.leave_sts = leave_sts(work, project, job->plan, job->per_in);
    for (int y = 0; y < GRID_YARNS_MAX; y++)
        job->question.knitted_as[y] =
            (uint8_t)(y < piece->nyarns && piece->yarns[y].over >= 0 ? piece->yarns[y].over : y);
    ways_set(job);
    job->answer = resize_chart(work, &job->question);
    job->left = side_redrawn(job, &job->band->left, true);
    job->right = side_redrawn(job, &job->band->right, false);
    marks_set(job);
    return RUN_DONE;
}

enum run_status command_resize(struct work *work, const struct arguments *arguments)
{
    struct resize_job *job = arena_alloc(work->arena, 1, sizeof *job);
    bool to_file = arguments->out_path && strcmp(arguments->out_path, "-") != 0;
    struct text text = text_create(work->arena), file = text_create(work->arena);
    enum run_status status = read_request(arguments, job);

    job->work = work;
    if (status == RUN_DONE)
        status = run_plan(work, arguments->word[0], &job->plan);
    if (status == RUN_DONE)
        status = choose_band(work, arguments, job);
    if (status == RUN_DONE)
        status = redraw(work, arguments, job, job->plan->project);
    if (status != RUN_DONE)
        return status;
    resize_write_chart(job, &file);
    if (to_file && outfile_write(work, arguments->out_path, file.bytes, file.length, arguments->replace) != 0)
        return RUN_FILE;
    if (arguments->out_path && !to_file)
        return outfile_write_stdout(work, file.bytes, file.length) == 0 ? RUN_DONE : RUN_FILE;
    resize_report(job, arguments->window_columns > 0 ? arguments->window_columns : 80, &text);
    if (to_file)
        text_addf(&text, "\nWrote %s\n", arguments->out_path);
    return outfile_write_stdout(work, text.bytes, text.length) == 0 ? RUN_DONE : RUN_FILE;
}
