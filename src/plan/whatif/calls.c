/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Close calls: what would put them right, each reckoned from the yarn of its steps; and where an
 * odd ball hardly shows.
 */
#include "plan/builder.h"

#include <string.h>

#include "base/arena.h"

static const double MM_PER_M = 1000.0;

/* How many of each kind are told of one yarn. */
enum { STEPS_EACH = 6, REPEATS_EACH = 2, EDGES_EACH = 2 };
enum { CHANGES_EACH = STEPS_EACH + REPEATS_EACH + EDGES_EACH + 1, ROUNDS_TRIED = 1000 };

struct calls {
    struct builder *builder;
    int make;
    double high; /* share of the last ball from which it is a close call */
    struct plan_change *list;
    int count;
    const struct plan_piece **fewer; /* [nbands], planned with a repeat less; NULL: not yet, or it cannot be */
    bool *planned;                   /* [nbands] */
};

static double step_m(const struct calls *calls, int step, int yarn)
{
    const struct plan_piece *piece = calls->builder->piece;

    return piece->step_m[step * piece->nyarns + yarn] * calls->make;
}

/* What is to be bought with more_m metres more (or, below 0, fewer). */
static bool recount(const struct calls *calls, int index, double more_m, struct ball_count *buy)
{
    return plan_range_buy(calls->builder, index,
                          calls->builder->piece->yarns[index].length_m + more_m, buy, NULL);
}

/* Does it put the close call right? change->saved_m is told. */
static bool helps(const struct calls *calls, struct plan_change *change)
{
    const struct plan_yarn *yarn = &calls->builder->piece->yarns[change->yarn];

    if (!(change->saved_m > 0.0) ||
        !recount(calls, change->yarn, -change->saved_m, &change->buy))
        return false;
    return change->buy.balls < yarn->buy.balls ||
           (yarn->close_call == CALL_NEARLY_USED && change->buy.last_used <= calls->high);
}

static void add(struct calls *calls, const struct plan_change *change)
{
    calls->list[calls->count++] = *change;
}

/* The fewest rounds of a plain part; not so many that it is another thing. */
static bool fewer_rounds(const struct calls *calls, int yarn, int index, struct plan_change *change)
{
    const struct plan_step *step = &calls->builder->piece->steps[index];
    double part = builder_threshold(calls->builder, "change_rounds_ratio");
    double row_m = (double)step->stitches / (double)step->rows *
                   calls->builder->piece->loop.yarn[yarn].plain_loop_mm / MM_PER_M * calls->make;

    *change = (struct plan_change){
        .yarn = yarn, .kind = CHANGE_ROUNDS, .step = index, .other = -1};
    for (int64_t rounds = 1; rounds <= ROUNDS_TRIED && (double)rounds <= part * (double)step->rows;
         rounds++) {
        change->rounds = rounds;
        change->saved_m = (double)rounds * row_m;
        if (helps(calls, change))
            return true;
    }
    return false;
}

static void try_steps(struct calls *calls, int yarn)
{
    const struct plan_piece *piece = calls->builder->piece;
    const int from = calls->count;

    for (int i = 0; i < piece->nsteps && calls->count - from < STEPS_EACH; i++) {
        const struct plan_step *step = &piece->steps[i];
        struct plan_change change;

        if (step->kind == STEP_PLAIN && step->yarn == yarn && step->rows > 0 &&
            fewer_rounds(calls, yarn, i, &change))
            add(calls, &change);
        if (step->kind != STEP_BAND || piece->bands[step->band].upwards < 2)
            continue;
        change = (struct plan_change){
            .yarn = yarn, .kind = CHANGE_UPWARDS, .step = i, .other = -1};
        change.saved_m = step_m(calls, i, yarn) / piece->bands[step->band].upwards;
        if (helps(calls, &change))
            add(calls, &change);
    }
}

/* The piece again with a repeat less in a band: counts, shaping and all that hangs on them. */
static const struct plan_piece *plan_fewer(const struct calls *calls, int band)
{
    const struct builder *own = calls->builder;
    const struct plan_band *of = &own->piece->bands[band];
    struct arena *arena = own->work->arena;
    struct project project = *own->project;
    struct plan_piece *piece = arena_alloc(arena, 1, sizeof *piece);
    struct variant changed = {.project = &project, .parts = PIECE_COUNTS | PIECE_BANDS | PIECE_YARNS};

    project.parts = arena_alloc(arena, (size_t)project.nparts, sizeof *project.parts);
    memcpy(project.parts, own->project->parts, (size_t)project.nparts * sizeof *project.parts);
    project.parts[of->part].repeats.value = of->repeats - 1;
    return plan_variant(own, &changed, piece, NULL) ? piece : NULL;
}

static void try_repeats(struct calls *calls, int yarn)
{
    const struct plan_piece *piece = calls->builder->piece;
    const int from = calls->count;

    for (int i = 0; i < piece->nsteps && calls->count - from < REPEATS_EACH; i++) {
        int band = piece->steps[i].kind == STEP_BAND ? piece->steps[i].band : -1;
        struct plan_change change = {
            .yarn = yarn, .kind = CHANGE_REPEATS, .step = i, .other = -1};

        if (band < 0 || piece->bands[band].repeats < 2)
            continue;
        if (!calls->planned[band])
            calls->fewer[band] = plan_fewer(calls, band);
        calls->planned[band] = true;
        if (!calls->fewer[band])
            continue;
        change.stitches = calls->fewer[band]->bands[band].stitches;
        change.finished_in = calls->fewer[band]->bands[band].finished_in;
        change.has_wanted = piece->bands[band].has_target;
        change.smaller_in = piece->bands[band].wanted_in - change.finished_in;
        if (change.has_wanted && change.smaller_in > builder_threshold(calls->builder, "change_size_ratio") *
                                                         piece->bands[band].wanted_in)
            continue; /* another size */
        change.saved_m = piece->yarns[yarn].length_m - calls->fewer[band]->yarns[yarn].length_m;
        if (helps(calls, &change))
            add(calls, &change);
    }
}

/* Where it is counted: ripped out and knitted up. */
static void try_swatch(struct calls *calls, int yarn)
{
    struct plan_change change = {.yarn = yarn,
                                 .kind = CHANGE_SWATCH,
                                 .step = -1,
                                 .other = -1,
                                 .saved_m = calls->builder->piece->yarns[yarn].use_m[USE_SWATCH]};

    if (helps(calls, &change))
        add(calls, &change);
}

/* An edge in another yarn, the first that takes it on without a ball more or a close call. */
static void try_edge(struct calls *calls, int yarn, enum change_kind kind, double metres)
{
    const struct plan_piece *piece = calls->builder->piece;
    struct plan_change change = {.yarn = yarn, .kind = kind, .step = -1, .saved_m = metres};

    if (!helps(calls, &change))
        return;
    for (change.other = 0; change.other < piece->nyarns; change.other++) {
        const struct plan_yarn *other = &piece->yarns[change.other];
        struct ball_count buy;

        if (change.other == yarn || !other->used || !other->knitted || !other->has_ball ||
            !recount(calls, change.other, metres, &buy))
            continue;
        if (buy.balls == other->buy.balls && buy.last_used <= calls->high) {
            add(calls, &change);
            return;
        }
    }
}

static void try_edges(struct calls *calls, int index)
{
    const struct plan_piece *piece = calls->builder->piece;
    const struct plan_yarn *yarn = &piece->yarns[index];
    bool two_colours = false;

    for (int i = 0; i < piece->nsteps; i++)
        two_colours = two_colours || (piece->steps[i].kind == STEP_RIB && piece->steps[i].yarn2 >= 0);
    if (piece->cast_on.yarn == index)
        try_edge(calls, index, CHANGE_CAST_ON,
                 yarn->use_m[USE_CAST_ON] + (two_colours ? 0.0 : yarn->use_m[USE_RIB]));
    try_edge(calls, index, CHANGE_BIND_OFF, yarn->use_m[USE_BIND_OFF]);
}

/* --- where an odd ball hardly shows ------------------------------------------------------------ */

/* Only where there is more than one ball that could differ. */
static bool may_differ(const struct plan_yarn *yarn)
{
    return yarn->used && yarn->knitted && yarn->has_ball &&
           yarn->buy.balls + (yarn->have_m > 0.0 ? 1 : 0) > 1;
}

static bool uses(const struct calls *calls, int step, int yarn)
{
    return step >= 0 && step < calls->builder->piece->nsteps && step_m(calls, step, yarn) > 0.0;
}

/* Broken up by other yarns, apart from the rest of its own, and no more of it than a ball. */
static bool hides(const struct calls *calls, int index, int yarn)
{
    const struct plan_piece *piece = calls->builder->piece;
    const struct plan_band *band = &piece->bands[piece->steps[index].band];
    double part = builder_threshold(calls->builder, "odd_ball_ratio");
    int64_t own = 0, all = 0;

    for (int i = 0; i < band->ncolours; i++) {
        all += band->colours[i].piece_stitches;
        own += band->colours[i].yarn == yarn ? band->colours[i].piece_stitches : 0;
    }
    return own > 0 && (double)(all - own) >= part * (double)all &&
           !uses(calls, index - 1, yarn) && !uses(calls, index + 1, yarn) &&
           step_m(calls, index, yarn) * (1.0 + piece->yarns[yarn].margin) <=
               piece->yarns[yarn].ball_m;
}

static void set_hiding(const struct calls *calls, int yarn)
{
    const struct plan_piece *piece = calls->builder->piece;

    for (int i = 0; i < piece->nsteps; i++)
        if (piece->steps[i].kind == STEP_BAND && hides(calls, i, yarn))
            calls->builder->piece->yarns[yarn].hide_bands |= (uint64_t)1 << piece->steps[i].band;
}

void plan_calls_set(struct builder *builder, struct plan *plan)
{
    const struct plan_piece *piece = &plan->piece;
    struct calls calls = {.builder = builder,
                          .make = plan->make,
                          .high = builder_threshold(builder, "close_call_high")};

    calls.list = arena_alloc(builder->work->arena, (size_t)(piece->nyarns * CHANGES_EACH),
                             sizeof *calls.list);
    calls.fewer = arena_alloc(builder->work->arena, (size_t)piece->nbands, sizeof *calls.fewer);
    calls.planned = arena_alloc(builder->work->arena, (size_t)piece->nbands, sizeof *calls.planned);
    for (int i = 0; i < piece->nyarns; i++) {
        builder->piece->yarns[i].may_differ = may_differ(&piece->yarns[i]);
        if (piece->yarns[i].may_differ)
            set_hiding(&calls, i);
        if (piece->yarns[i].close_call == CALL_NONE ||
            piece->yarns[i].likely.sure_balls < piece->yarns[i].buy.balls)
            continue; /* or fewer balls are sure enough already: the last is for the margin */
        try_steps(&calls, i);
        try_repeats(&calls, i);
        try_edges(&calls, i);
        try_swatch(&calls, i);
    }
    plan->changes = calls.list;
    plan->nchanges = calls.count;
}
