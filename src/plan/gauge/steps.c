/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The piece in the order it is worked, from cast-on to bind-off.
 *
 * Where two parts differ in stitches the shaping is worked in a plain round that is there
 * already, if there is one: the rounds before the next band, those after the last, the
 * next plain part, the last one. Otherwise a round is added.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"
#include "words/say.h"
#include "words/shaping.h"

enum { ROWS_MAX = 1000000 };

struct walk {
    struct builder *builder;
    int count;       /* stitches now */
    int64_t row;     /* number of the next round, from 1 */
    int plain_yarn;  /* yarn of the last plain rounds */
    struct plain_rounds after; /* of the band below, still to be worked */
};

static struct plan_step *add_step(struct walk *walk, enum step_kind kind)
{
    struct plan_piece *piece = walk->builder->piece;
    struct plan_step *step = &piece->steps[piece->nsteps++];

    *step = (struct plan_step){.kind = kind,
                               .name = "",
                               .band = -1,
                               .yarn = walk->builder->main_yarn,
                               .yarn2 = -1,
                               .from_sts = walk->count,
                               .to_sts = walk->count};
    step->on_needle = walk->count + piece->cast_on.selvedge_sts + piece->cast_on.steek_sts;
    return step;
}

static void take_rows(struct walk *walk, struct plan_step *step, int64_t rows, double rows_per_in)
{
    step->rows = rows;
    step->first_row = rows > 0 ? walk->row : 0;
    step->height_in = (double)rows / rows_per_in;
    step->stitches = rows * (int64_t)step->to_sts;
    walk->row += rows;
}

/* Nothing where no rows are left. */
static void add_plain(struct walk *walk, const char *name, int yarn, int64_t rows)
{
    struct plan_step *step;

    if (rows <= 0)
        return;
    step = add_step(walk, STEP_PLAIN);
    step->name = name;
    step->yarn = yarn;
    walk->plain_yarn = yarn;
    take_rows(walk, step, rows, walk->builder->piece->plain_gauge.rows_per_in);
}

/* Twice as many stitches, or half, is the most that one round takes. */
static void caution_steep(struct walk *walk, const struct plan_step *step, struct place at)
{
    struct builder *builder = walk->builder;

    if (builder->try_at || builder->looking || step->shaping.rounds < 2)
        return;
    diag_add(builder->work->diagnostics, DIAG_SHAPING_STEEP, at,
             arena_printf(builder->work->arena,
                          "From %d to %d stitches is more than one %s of shaping takes: it is spread "
                          "over %d.",
                          step->from_sts, step->to_sts,
                          say_rounds(builder->project->worked.value != WORKED_FLAT)->one,
                          step->shaping.rounds),
             "The fabric will flare or pucker there; bring the two counts nearer to each other if "
             "that is not wanted.");
}

/* Shape to `to` stitches in `yarn`, for the part at `at`. */
static void add_shape(struct walk *walk, int to, int yarn, struct place at)
{
    struct plan_step *step;
    struct shaping shaping;
    bool round = !builder_is_open(walk->builder);
    int status = shaping_spread(walk->builder->work, walk->count, to, round, &shaping);

    if (status < 0) {
        builder_fault(walk->builder, DIAG_PLAN_SIZE, at,
                      "Two parts differ by more stitches than can be shaped.",
                      "Check the measures, and the stitches on the needle, of neighbouring parts.");
        return;
    }
    step = add_step(walk, STEP_SHAPE);
    walk->count = to;
    step->yarn = yarn;
    step->to_sts = to;
    step->on_needle += to - step->from_sts;
    step->shaping = shaping;
    walk->plain_yarn = yarn;
    take_rows(walk, step, shaping.rounds, walk->builder->piece->plain_gauge.rows_per_in);
    caution_steep(walk, step, at);
}

static int shape_rounds(const struct walk *walk, int to)
{
    return walk->count < 1 || to < 1 ? 0 : shaping_rounds(walk->count, to);
}

/* The rounds after the part below, less those in which it is shaped. */
static void work_after(struct walk *walk, int shaped)
{
    add_plain(walk, "", walk->after.yarn.index, walk->after.rounds - shaped);
}

/* From the part below to `next`: the rounds after the one, shaping, the rounds before the other. */
static void enter_band(struct walk *walk, const struct part *next, int to)
{
    int before_rows = next->before.rounds, after_rows = walk->after.rounds;
    int need = shape_rounds(walk, to);
    int from_before = need < before_rows ? need : before_rows;
    int from_after = need - from_before < after_rows ? need - from_before : after_rows;
    int shape_yarn = from_before > 0 ? next->before.yarn.index
                     : from_after > 0 ? walk->after.yarn.index
                                      : walk->plain_yarn;

    work_after(walk, from_after);
    if (need > 0)
        add_shape(walk, to, shape_yarn, next->at);
    add_plain(walk, "", next->before.yarn.index, before_rows - from_before);
}

static int64_t plain_rows(const struct builder *builder, const struct part *part)
{
    const struct plan_gauge *plain = &builder->piece->plain_gauge;
    double rows = 0.0;

    if (rational_is_value(part->length.in))
        rows = rational_double(part->length.in) * plain->rows_per_in;
    else if (part->rounds.value > 0)
        rows = part->rounds.value *
               (builder->try_at ? plain->rows_per_in / builder->own->plain_gauge.rows_per_in : 1.0);
    return llround(rows);
}

static void work_counted(struct walk *walk, const struct part *part)
{
    struct builder *builder = walk->builder;
    struct plan_step *step = add_step(walk, STEP_PLAIN);
    double scale = 1.0;

    if (builder->try_at)
        scale = builder->piece->plain_gauge.per_in * builder->piece->plain_gauge.rows_per_in /
                (builder->own->plain_gauge.per_in * builder->own->plain_gauge.rows_per_in);
    step->name = part->name;
    step->yarn = part->yarn.index;
    step->counted_otherwise = true;
    step->stitches = llround(part->stitches.value * scale);
    walk->plain_yarn = step->yarn;
}

static void work_plain(struct walk *walk, const struct part *part, int to)
{
    int64_t rows = plain_rows(walk->builder, part);
    int after_rows = walk->after.rounds;
    int need = part->stitches.value > 0 ? 0 : shape_rounds(walk, to);
    int from_after = need < after_rows ? need : after_rows;

    work_after(walk, from_after);
    if (part->stitches.value > 0) {
        work_counted(walk, part);
        return;
    }
    if (need > 0)
        add_shape(walk, to, from_after > 0 ? walk->after.yarn.index : part->yarn.index, part->at);
    add_plain(walk, part->name, part->yarn.index, rows - (need - from_after));
}

static void work_band(struct walk *walk, int band_index)
{
    struct plan_band *band = &walk->builder->piece->bands[band_index];
    struct plan_step *step = add_step(walk, STEP_BAND);
    int64_t rows = (int64_t)band->rows * band->upwards;

    step->name = band->name;
    step->band = band_index;
    band->first_round = (int)walk->row;
    take_rows(walk, step, rows, walk->builder->piece->gauge.rows_per_in);
    band->height_in = step->height_in;
}

static void work_cast_on(struct walk *walk)
{
    struct builder *builder = walk->builder;
    const struct plan_cast_on *cast_on = &builder->piece->cast_on;
    const struct given_yarn *purl = &builder->project->cast_on.purl_yarn;
    struct plan_step *step;

    walk->count = cast_on->body_sts;
    step = add_step(walk, STEP_CAST_ON);
    step->yarn = cast_on->yarn;
    if (cast_on->kind == CAST_ON_LONG_TAIL)
        step->length_in = cast_on->width_in * builder_value(builder, "cast_on_long_tail_widths") +
                          builder_value(builder, "cast_on_long_tail_extra_in");
    if (!cast_on->has_rib || cast_on->rib_rounds <= 0)
        return;
    step = add_step(walk, STEP_RIB);
    step->yarn = cast_on->yarn;
    step->yarn2 = purl->index;
    take_rows(walk, step, cast_on->rib_rounds, builder->piece->plain_gauge.rows_per_in);
}

/* The rounds after a last band, and back to what the rest keeps where she shapes before and after it. */
static void leave_last(struct walk *walk)
{
    const struct project *project = walk->builder->project;
    const struct part *last = &project->parts[project->nparts - 1];
    int after_rows = walk->after.rounds;
    int rest = walk->builder->rest_count[project->nparts - 1];
    int need = last->kind == PART_BAND ? shape_rounds(walk, rest) : 0;
    int from_after = need < after_rows ? need : after_rows;

    if (need > 0)
        add_shape(walk, rest, from_after > 0 ? walk->after.yarn.index : walk->plain_yarn, last->at);
    work_after(walk, from_after);
}

static void work_bind_off(struct walk *walk)
{
    const struct project *project = walk->builder->project;
    struct plan_step *step;

    if (project->bind_off.value == BIND_OFF_NONE)
        return;
    step = add_step(walk, STEP_BIND_OFF);
    step->yarn = project->bind_off_yarn.index >= 0 ? project->bind_off_yarn.index : walk->plain_yarn;
}

void plan_steps_set(struct builder *builder)
{
    enum { STEPS_EACH = 4, STEPS_BESIDE = 8 };
    const struct project *project = builder->project;
    struct walk walk = {.builder = builder, .row = 1, .plain_yarn = builder->main_yarn};
    int band = 0;

    builder->piece->steps =
        arena_alloc(builder->work->arena, (size_t)(project->nparts * STEPS_EACH + STEPS_BESIDE),
                    sizeof *builder->piece->steps);
    work_cast_on(&walk);
    for (int i = 0; i < project->nparts; i++) {
        const struct part *part = &project->parts[i];

        if (part->kind == PART_BAND) {
            enter_band(&walk, part, builder->part_count[i]);
            work_band(&walk, band++);
            walk.after = part->after;
        } else {
            work_plain(&walk, part, builder->part_count[i]);
            walk.after = (struct plain_rounds){.rounds = 0};
        }
        if (walk.row > ROWS_MAX) {
            builder_fault(builder, DIAG_PLAN_SIZE, part->at,
                          "The piece would have more than a million rows.",
                          "Check length, rounds and upwards, and their units.");
            return;
        }
    }
    leave_last(&walk);
    work_bind_off(&walk);
}
