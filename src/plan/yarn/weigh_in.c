/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What should be left of each yarn after each step, and by when so much must be.
 *
 * All pieces are alike, worked one after the other. The joins of further balls are left out:
 * they stay on the piece and are a fraction of a gram.
 */
#include "plan/builder.h"
#include "plan/catches/rows.h"

#include <math.h>

#include "base/arena.h"

/* Of a band worked many times upwards some alone are told, the last among them; of many pieces the last. */
enum { TIMES_TOLD = 6, PIECES_TOLD = 12 };

struct weigh {
    struct builder *builder;
    struct plan_weighing *list;
    int count;
};

static double step_m(const struct plan_piece *piece, int step, int yarn)
{
    return piece->step_m[step * piece->nyarns + yarn];
}

static double grams_per_m(const struct plan_yarn *yarn)
{
    return yarn->has_ball && !yarn->beyond_count ? yarn->ball_g / yarn->ball_m : (double)NAN;
}

static double piece_m(const struct plan_piece *piece, int yarn)
{
    double metres = 0.0;

    for (int step = 0; step <= piece->nsteps; step++)
        metres += step_m(piece, step, yarn);
    return metres;
}

/* used_m: of this piece so far. */
static void weigh(struct weigh *weigh, int number, int step, int time, const double *used_m)
{
    const struct plan_piece *piece = weigh->builder->piece;
    double *left_g =
        arena_alloc(weigh->builder->work->arena, (size_t)piece->nyarns, sizeof *left_g);

    for (int i = 0; i < piece->nyarns; i++) {
        const struct plan_yarn *yarn = &piece->yarns[i];
        /* a swatch that is kept was knitted before anything else */
        double start_m = (double)yarn->buy.balls * yarn->ball_m + yarn->have_m - yarn->use_m[USE_SWATCH];

        left_g[i] = (start_m - (number - 1) * piece_m(piece, i) - used_m[i]) * grams_per_m(yarn);
    }
    weigh->list[weigh->count++] = (struct plan_weighing){number, step, time, left_g};
}

static void weigh_step(struct weigh *all, int step, double *used_m)
{
    const struct plan_piece *piece = all->builder->piece;
    int band = step < piece->nsteps ? piece->steps[step].band : -1;
    int times = band >= 0 ? piece->bands[band].upwards : 1;
    int every = (times + TIMES_TOLD - 1) / TIMES_TOLD;

    for (int time = 1; time <= times; time++) {
        for (int i = 0; i < piece->nyarns; i++)
            used_m[i] += step_m(piece, step, i) / times;
        if (time % every == 0 || time == times)
            weigh(all, 1, step, times > 1 ? time : 0, used_m);
    }
}

bool plan_is_sewn(const struct plan_piece *piece)
{
    for (int i = 0; i < piece->nyarns; i++)
        if (step_m(piece, piece->nsteps, i) > 0.0)
            return true;
    return false;
}

static void list_weighings(struct builder *builder, struct plan *plan)
{
    const struct plan_piece *piece = builder->piece;
    struct weigh all = {.builder = builder};
    size_t most = (size_t)(piece->nsteps + piece->nbands * TIMES_TOLD + PIECES_TOLD + 4);
    double *used_m = arena_alloc(builder->work->arena, (size_t)piece->nyarns, sizeof *used_m);

    all.list = arena_alloc(builder->work->arena, most, sizeof *all.list);
    weigh(&all, 1, -1, 0, used_m);
    for (int step = 0; step < piece->nsteps; step++)
        weigh_step(&all, step, used_m);
    if (plan_is_sewn(piece))
        weigh_step(&all, piece->nsteps, used_m);
    for (int number = plan->make <= PIECES_TOLD ? 2 : plan->make; number <= plan->make; number++)
        weigh(&all, number, piece->nsteps, 0, used_m);
    plan->weighings = all.list;
    plan->nweighings = all.count;
}

/* --- by when so much must be left -------------------------------------------------------------- */

/* What each row of a band, worked once, takes of the whole, as parts: stitches, and a float
 * behind the others' where the yarn is used. */
static double *row_parts(const struct builder *builder, const struct plan_band *band, int yarn)
{
    const struct plan_piece *piece = builder->piece;
    double strand_mm = piece->gauge.stitch_width_mm * piece->loop.slack_ratio, all = 0.0;
    double *parts = arena_alloc(builder->work->arena, (size_t)band->rows, sizeof *parts);
    uint8_t *yarn_of =
        arena_alloc(builder->work->arena, (size_t)(band->stitches + band->side_sts + 1), 1);

    for (int row = 0; row < band->rows; row++) {
        int n = plan_read_whole_row(band, row, yarn_of, NULL), own = 0;

        for (int i = 0; i < n; i++)
            own += yarn_of[i] == yarn;
        parts[row] = own * piece->loop.yarn[yarn].loop_mm + (own > 0 ? n - own : 0) * strand_mm;
        all += parts[row];
    }
    for (int row = 0; row < band->rows; row++)
        parts[row] = all > 0.0 ? parts[row] / all : 1.0 / band->rows;
    return parts;
}

/* Back through a step from its end until the rest is wanted_m: where that is. */
static bool find_in_step(const struct builder *builder, int step, double wanted_m, double *rest_m,
                         struct plan_weigh_by *by)
{
    const struct plan_piece *piece = builder->piece;
    int band = step < piece->nsteps ? piece->steps[step].band : -1;
    double metres = step_m(piece, step, by->yarn);
    int64_t rows = step < piece->nsteps ? piece->steps[step].rows : 0;
    const double *parts;

    by->step = step;
    by->time = 0;
    by->row = 0;
    if (*rest_m + metres < wanted_m || rows == 0) {
        *rest_m += metres;
        return *rest_m >= wanted_m;
    }
    parts = band >= 0 ? row_parts(builder, &piece->bands[band], by->yarn) : NULL;
    for (int64_t row = rows; row > 0; row--) {
        int64_t in_chart = parts ? (row - 1) % piece->bands[band].rows : 0;

        *rest_m += parts ? metres * parts[in_chart] / piece->bands[band].upwards
                         : metres / (double)rows;
        by->row = parts ? in_chart + 1 : row;
        by->time = parts && piece->bands[band].upwards > 1
                       ? (int)((row - 1) / piece->bands[band].rows) + 1
                       : 0;
        if (*rest_m >= wanted_m)
            break;
    }
    return true;
}

bool plan_weigh_in_find(const struct builder *builder, int make, double wanted_m,
                        struct plan_weigh_by *by, double *rest_m)
{
    *rest_m = 0.0;
    for (by->piece = make; by->piece > 0; by->piece--)
        for (int step = builder->piece->nsteps; step >= 0; step--)
            if (find_in_step(builder, step, wanted_m, rest_m, by))
                return true;
    return false;
}

static bool find_last(const struct builder *builder, int make, struct plan_weigh_by *by)
{
    const struct plan_yarn *yarn = &builder->piece->yarns[by->yarn];
    double wanted_m = yarn->length_m * builder_threshold(builder, "weigh_in_rest_ratio");
    double rest_m;

    if (!plan_weigh_in_find(builder, make, wanted_m, by, &rest_m))
        return false;
    by->rest_g = rest_m * grams_per_m(yarn);
    /* grams: what the length of a ball may be out counts too */
    by->need_g = by->rest_g * yarn->likely.buy_high_m / yarn->length_m;
    return true;
}

static void list_weigh_by(const struct builder *builder, struct plan *plan)
{
    const struct plan_piece *piece = builder->piece;
    struct plan_weigh_by *list =
        arena_alloc(builder->work->arena, (size_t)piece->nyarns, sizeof *list);
    const double scale_g = 1.0; /* kitchen scales count in grams: less cannot be told */

    for (int i = 0; i < piece->nyarns; i++) {
        struct plan_weigh_by by = {.yarn = i};

        if (piece->yarns[i].used && piece->yarns[i].has_ball &&
            find_last(builder, plan->make, &by) && by.need_g >= scale_g)
            list[plan->nweigh_by++] = by;
    }
    plan->weigh_by = list;
}

void plan_weigh_in_set(struct builder *builder, struct plan *plan)
{
    list_weighings(builder, plan);
    list_weigh_by(builder, plan);
}
