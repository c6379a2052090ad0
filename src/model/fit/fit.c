/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which remedies there are and what each costs. The sentences are in words/remedy.c.
 */
#include "fit.h"

#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/wear/stretch.h"

enum { OF_A_KIND = 2, STITCHES_MOST = 1000000, SHARERS_MOST = 30 };

struct fitting {
    struct work *work;
    const struct fit_question *question;
    struct fit_case facts;
    struct rational below_off,
        above_off;        /* to the whole repeats around the target; none: no such */
    int64_t step;         /* from one of them to the next */
    struct fit_remedy *remedies;
    int count;
};

static double inches_of(const struct fitting *fitting, int64_t stitches)
{
    return rational_double(rational_div(rational_whole(stitches), fitting->question->per_in));
}

static struct rational distance(struct rational a, int64_t stitches)
{
    return rational_distance(a, rational_whole(stitches));
}

struct count_set fit_counts(const struct fit_question *question, int width)
{
    struct count_rule rules[SHARERS_MOST + 1] = {{width, question->side_sts, -1}};
    int n = 1;

    for (; n <= question->nshared && n <= SHARERS_MOST; n++)
        rules[n] = question->shared[n - 1];
    return sizing_counts(rules, n);
}

/* Does it go into all bands that share the count? Its own repeat is not asked. */
static bool suits_shared(const struct fit_question *question, int64_t stitches)
{
    for (int i = 0; i < question->nshared; i++)
        if (!sizing_suits(&question->shared[i], stitches))
            return false;
    return true;
}

static struct fit_remedy *add_remedy(struct fitting *fitting, enum fit_kind kind, int64_t stitches)
{
    struct fit_remedy *remedy = &fitting->remedies[fitting->count++];
    const struct fit_question *question = fitting->question;

    remedy->kind = kind;
    remedy->stitches = stitches;
    remedy->repeats = (stitches - question->side_sts) / question->repeat_sts;
    remedy->repeat_sts = question->repeat_sts;
    remedy->finished_in = inches_of(fitting, stitches);
    remedy->off_in = remedy->finished_in - fitting->facts.wanted_in;
    remedy->gauge_per_in = rational_double(question->per_in);
    return remedy;
}

/* The two whole counts around the target, the nearer first; a tie to the larger. */
static int counts_nearest_first(const struct fitting *fitting, int64_t counts[OF_A_KIND])
{
    bool below_first =
        fitting->facts.below > 0 && rational_compare(fitting->below_off, fitting->above_off) < 0;
    int ncounts = 0;

    if (below_first)
        counts[ncounts++] = fitting->facts.below;
    counts[ncounts++] = fitting->facts.above;
    if (fitting->facts.below > 0 && !below_first)
        counts[ncounts++] = fitting->facts.below;
    return ncounts;
}

static double pull_ratio(const struct fit_question *question)
{
    return stretch_grid_ratio(question->chart->repeat, question->stitch_ratio, question->float_ratio);
}

static bool must_pass(const struct fit_question *question)
{
    return question->chart && question->must_in > 0.0;
}

static bool count_passes(const struct fitting *fitting, int64_t stitches)
{
    const struct fit_question *question = fitting->question;

    return stretch_reaches(inches_of(fitting, stitches) * pull_ratio(question), question->must_in);
}

/* The counts around the measure; where neither passes what it must, the first that does too. */
static void offer_counts(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    int64_t counts[OF_A_KIND], count = fitting->facts.above, more;
    int ncounts = counts_nearest_first(fitting, counts);
    double need;

    for (int i = 0; i < ncounts; i++)
        add_remedy(fitting, FIT_ANOTHER_COUNT, counts[i]);
    if (!must_pass(question) || count_passes(fitting, count))
        return;
    need = stretch_stitches(question->must_in, rational_double(question->per_in), pull_ratio(question));
    if (need > STITCHES_MOST)
        return;
    more = ((int64_t)ceil(need) - count) / fitting->step - 1;
    count += more > 0 ? more * fitting->step : 0;
    while (!count_passes(fitting, count))
        count += fitting->step;
    add_remedy(fitting, FIT_ANOTHER_COUNT, count);
}

static void offer_shaping(struct fitting *fitting)
{
    int64_t counts[OF_A_KIND], body = fitting->facts.body_sts;
    bool none = fitting->question->shaped_already || fitting->question->nshared > 0;
    int ncounts = none ? 0 : counts_nearest_first(fitting, counts);

    for (int i = 0; i < ncounts; i++) {
        int change = (int)(counts[i] > body ? counts[i] - body : body - counts[i]);
        struct fit_remedy *remedy;

        if (change == 0 || counts[i] > STITCHES_MOST)
            continue;
        remedy = add_remedy(fitting, FIT_SHAPE, counts[i]);
        remedy->increase = remedy->decrease = change;
        remedy->before_is_decrease = counts[i] < body;
        remedy->extra_rounds = shaping_rounds(body, counts[i]) + shaping_rounds(counts[i], body);
    }
}

/* Is a count nearer the target than whole repeats come? */
static bool is_nearer(const struct fitting *fitting, int64_t stitches)
{
    struct rational off = distance(fitting->question->target_sts, stitches);

    return rational_is_value(off) &&
           (fitting->facts.below == 0 || rational_compare(off, fitting->below_off) < 0) &&
           rational_compare(off, fitting->above_off) < 0;
}

static bool is_within(const struct fitting *fitting, int64_t stitches, double ratio)
{
    struct rational target = fitting->question->target_sts;
    struct rational part = rational_div(distance(target, stitches), target);

    return rational_is_value(part) && rational_compare(part, rational_millionths(ratio)) <= 0;
}

/* So near that it is as good as met. */
static bool is_near(const struct fitting *fitting, int64_t stitches)
{
    return is_within(fitting, stitches, fitting->question->near_ratio);
}

/* Plain columns that bring so many repeats nearest the target; 0: none, or no nearer than
 * whole repeats come without. */
static int columns_for(const struct fitting *fitting, int64_t repeats)
{
    const struct fit_question *question = fitting->question;
    int64_t bare = repeats * question->repeat_sts + question->side_sts, columns;
    struct rational each = rational_div(rational_sub(question->target_sts, rational_whole(bare)),
                                        rational_whole(repeats));

    if (!rational_is_value(each))
        return 0;
    columns = rational_nearest(each);
    /* As many columns as the motif is wide: another motif would go in their place. */
    if (columns < 1 || columns >= question->repeat_sts ||
        !is_nearer(fitting, bare + columns * repeats))
        return 0;
    return (int)columns;
}

static void add_columns(struct fitting *fitting, int64_t repeats, int columns)
{
    const struct fit_question *question = fitting->question;
    struct fit_remedy *remedy =
        add_remedy(fitting, FIT_PLAIN_COLUMNS,
                   repeats * (question->repeat_sts + (int64_t)columns) + question->side_sts);

    remedy->repeats = repeats;
    remedy->repeat_sts += columns;
    remedy->plain_columns = columns;
    remedy->remake = (struct remake){.kind = REMAKE_PLAIN_COLUMNS,
                                     .plain_columns = columns,
                                     .plain_after = question->repeat_sts};
    if (question->chart)
        remedy->remake.plain_after =
            remake_plain_place(fitting->work, question->chart->repeat, question->side_sts > 0);
}

/* As many motifs as go in, then one fewer: the fewest plain columns come first. Where others share
 * the count, the first two that suit them. */
static void offer_columns(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    int64_t inner = rational_floor(question->target_sts) - question->side_sts;
    int64_t most = inner / question->repeat_sts;
    int64_t least = question->nshared > 0 ? most / 2 : most - OF_A_KIND + 1;

    for (int64_t repeats = most, found = 0; repeats >= 1 && repeats >= least && found < OF_A_KIND;
         repeats--) {
        int columns = columns_for(fitting, repeats);
        int64_t stitches = repeats * (question->repeat_sts + (int64_t)columns) + question->side_sts;

        if (columns == 0 || !suits_shared(question, stitches))
            continue;
        add_columns(fitting, repeats, columns);
        found++;
    }
}

/* The count of motifs so many stitches wide nearest the target; 0: no nearer than now. */
static int64_t count_of_width(const struct fitting *fitting, int width)
{
    const struct fit_question *question = fitting->question;
    struct count_set counts = fit_counts(question, width);
    int64_t stitches = sizing_nearest(&counts, question->target_sts);

    return stitches > 0 && is_nearer(fitting, stitches) ? stitches : 0;
}

static enum remake_ends ends_of(const struct fit_question *question)
{
    if (question->side_sts > 0)
        return REMAKE_KEEP_ENDS;
    return question->chart->ends == FLOATS_RING ? REMAKE_RING : REMAKE_OPEN;
}

/* One column or two fewer, then one or two more; of a motif no more than a quarter goes. */
static void offer_trim_and_pad(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;

    for (int sign = -1; sign <= 1; sign += 2) {
        struct remake best = {0};
        int64_t best_sts = 0;

        for (int size = 1; size <= 2; size++) {
            struct remake found = {.kind = REMAKE_COLUMNS, .ncolumns = size, .twice = sign > 0};
            int width = question->repeat_sts + sign * size;
            bool whole = sign > 0 || 4 * size <= question->repeat_sts;
            int64_t stitches = whole ? count_of_width(fitting, width) : 0;

            /* The nearer to the target, and of equal ones the smaller change. */
            if (stitches == 0 || (best_sts > 0 && rational_compare(distance(question->target_sts, stitches),
                                                                   distance(question->target_sts, best_sts)) >= 0))
                continue;
            if (question->chart && !remake_find_columns(fitting->work, question->chart->repeat,
                                                        sign * size, ends_of(question), &found)) {
                fitting->facts.column_stands[sign > 0] = true;
                continue;
            }
            best = found;
            best_sts = stitches;
        }
        if (best_sts > 0) {
            struct fit_remedy *remedy = add_remedy(fitting, FIT_TRIM_OR_PAD, best_sts);

            remedy->remake = best;
            remedy->repeat_sts += sign * best.ncolumns;
            remedy->repeats = (best_sts - question->side_sts) / remedy->repeat_sts;
        }
    }
}

/* The width nearest the motif's own that meets the measure, by changes of `step`; 0: none. Changed by
 * more than redraw_ratio of it, it would be another motif. */
static int width_to_draw(const struct fitting *fitting, int step)
{
    int own = fitting->question->repeat_sts;
    int most = (int)(fitting->question->redraw_ratio * own);

    for (int change = step; change <= most; change += step)
        for (int sign = -1; sign <= 1; sign += 2) {
            int64_t stitches = count_of_width(fitting, own + sign * change);

            if (stitches > 0 && is_near(fitting, stitches))
                return own + sign * change;
        }
    return 0;
}

/* A motif drawn anew: odd where it is odd, so that a centre line stays one; else any width. */
static void offer_redraw(struct fitting *fitting)
{
    int width = width_to_draw(fitting, 2);
    struct fit_remedy *remedy;

    if (width == 0)
        width = width_to_draw(fitting, 1);
    if (width == 0)
        return;
    remedy = add_remedy(fitting, FIT_REDRAW, count_of_width(fitting, width));
    remedy->repeat_sts = width;
    remedy->repeats = (remedy->stitches - fitting->question->side_sts) / width;
}

/* What the rest keeps, or the count nearest it that goes into the bands that share it; 0: none nearer
 * than whole repeats. */
static int64_t part_count(const struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    int64_t body = fitting->facts.body_sts, reach = fitting->step;

    if (question->nshared == 0)
        return body;
    for (int64_t off = 0; off < reach; off++)
        for (int sign = 1; sign >= -1; sign -= 2)
            if (suits_shared(question, body + sign * off))
                return is_nearer(fitting, body + sign * off) ? body + sign * off : 0;
    return 0;
}

static void offer_part_repeats(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    int64_t body = part_count(fitting);
    int64_t over = (body - question->side_sts) % question->repeat_sts;

    if (body < question->side_sts + (int64_t)question->repeat_sts || over == 0 ||
        (question->round && body > GRID_SIDE_MAX))
        return;
    for (int plain = 0; plain <= 1; plain++) {
        struct fit_remedy *remedy = add_remedy(fitting, FIT_PART_REPEATS, body);

        remedy->left_over = (int)over;
        remedy->remake = (struct remake){
            .kind = REMAKE_SIDES,
            .right_over = (int)(over - over / 2),
            .left_over = (int)(over / 2),
            .over_plain = plain != 0,
            .ring = question->chart ? question->chart->ends == FLOATS_RING : question->round};
    }
}

static void offer_gauges(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    int64_t counts[OF_A_KIND];
    int ncounts = counts_nearest_first(fitting, counts);

    for (int i = 0; i < ncounts; i++) {
        struct rational ratio = rational_div(rational_whole(counts[i]), question->target_sts);
        struct fit_remedy *remedy;

        /* A stitch count that the size rounds to needs no other needle. */
        if (counts[i] == rational_nearest(question->target_sts) ||
            !is_within(fitting, counts[i], question->gauge_reach))
            continue;
        remedy = add_remedy(fitting, FIT_ANOTHER_GAUGE, counts[i]);
        remedy->gauge_per_in = rational_double(rational_mul(question->per_in, ratio));
        remedy->finished_in = fitting->facts.wanted_in;
        remedy->off_in = 0;
    }
}

/* false: nothing to be said (it fits, or the question makes no sense). */
static bool look_around(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    struct rational target = question->target_sts;
    struct rational wanted = rational_div(target, question->per_in);
    struct count_set counts;

    if (!rational_is_value(wanted) || rational_sign(wanted) <= 0 || question->repeat_sts < 1 ||
        question->side_sts < 0 || rational_floor(target) > STITCHES_MOST)
        return false;
    fitting->facts.body_sts =
        question->body_sts > 0 ? question->body_sts : rational_nearest(target);
    fitting->facts.wanted_in = rational_double(wanted);
    counts = fit_counts(question, question->repeat_sts);
    if (counts.nresidues == 0 || counts.multiple > INT32_MAX)
        return false;
    fitting->step = counts.multiple;
    fitting->facts.below = sizing_below(&counts, rational_floor(target));
    fitting->facts.above = sizing_above(&counts, rational_floor(target));
    fitting->below_off = distance(target, fitting->facts.below);
    fitting->above_off = distance(target, fitting->facts.above);
    if (!rational_is_value(fitting->below_off) || !rational_is_value(fitting->above_off))
        return false;
    return question->weighed || fitting->facts.below == 0 || rational_sign(fitting->below_off) > 0 ||
           (must_pass(question) && !count_passes(fitting, fitting->facts.below));
}

/* What the band's floats are now, with the repeats she gave or the nearest whole ones. */
static void count_now(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    const struct fit_chart *chart = question->chart;
    int64_t counts[OF_A_KIND];
    struct remake_band band;

    counts_nearest_first(fitting, counts);
    if (question->planned_sts > 0)
        counts[0] = question->planned_sts;
    fitting->facts.planned_sts = counts[0];
    if (!chart)
        return;
    if (must_pass(question))
        fitting->facts.pulls_to_in = inches_of(fitting, counts[0]) * pull_ratio(question);
    band = (struct remake_band){*chart->repeat, *chart->left, *chart->right,
                                (int)((counts[0] - question->side_sts) / question->repeat_sts)};
    fitting->facts.floats = fit_count_floats(fitting->work, chart, &band, question->per_in);
}

/* How far it pulls then; a chart still to be drawn is taken to have the shares of the old one. */
static void cost_stretch(const struct fitting *fitting, const struct grid *repeat,
                         struct fit_remedy *remedy)
{
    const struct fit_question *question = fitting->question;

    if (!(question->must_in > 0.0))
        return;
    remedy->must = true;
    remedy->pulls_to_in = remedy->finished_in * stretch_grid_ratio(repeat, question->stitch_ratio,
                                                                   question->float_ratio);
    remedy->passes = stretch_reaches(remedy->pulls_to_in, question->must_in);
}

/* The rows that lose their one and one. */
static void cost_rows(const struct fitting *fitting, const struct grid *was, const struct grid *now,
                      struct fit_remedy *remedy)
{
    int *rows = arena_alloc(fitting->work->arena, (size_t)was->nrows, sizeof *rows);

    remedy->uneven_rows = rows;
    for (int row = 0; row < was->nrows; row++)
        if (remake_is_one_and_one(was, row) && !remake_is_one_and_one(now, row))
            rows[remedy->nuneven_rows++] = row;
}

/* Of the longest float, were it as much longer as the motif is drawn wider. */
static int catches_redrawn(const struct fitting *fitting, int width)
{
    const struct fit_floats *now = &fitting->facts.floats;
    int own = fitting->question->repeat_sts;
    int64_t longest = ((int64_t)now->longest_sts * width + own - 1) / own;

    return now->known ? floats_fewest_catches((int)longest, now->leave_sts) : 0;
}

static void cost_chart(struct fitting *fitting, struct fit_remedy *remedy)
{
    const struct fit_question *question = fitting->question;
    const struct fit_chart *chart = question->chart;
    struct rational per_in = question->per_in;
    struct remake_band band, changed;

    if (!chart)
        return;
    if (remedy->kind == FIT_REDRAW) {
        cost_stretch(fitting, chart->repeat, remedy);
        remedy->floats.catches_longest = catches_redrawn(fitting, remedy->repeat_sts);
        return;
    }
    band = (struct remake_band){*chart->repeat, *chart->left, *chart->right, (int)remedy->repeats};
    if (remedy->kind == FIT_ANOTHER_GAUGE)
        per_in = rational_mul(per_in, rational_div(rational_whole(remedy->stitches),
                                                   question->target_sts));
    if (!remake_apply(fitting->work, &remedy->remake, chart->repeat, &band, &changed))
        return;
    remedy->floats = fit_count_floats(fitting->work, chart, &changed, per_in);
    cost_stretch(fitting, &changed.repeat, remedy);
    if (remedy->remake.kind != REMAKE_NOTHING)
        cost_rows(fitting, chart->repeat, &changed.repeat, remedy);
    if (remedy->kind == FIT_PLAIN_COLUMNS)
        remedy->torn_rows = remake_torn_rows(fitting->work, chart->repeat, remedy->remake.plain_after,
                                             &remedy->ntorn_rows);
    else if (remedy->kind == FIT_TRIM_OR_PAD)
        remedy->torn_rows = remake_lost_rows(fitting->work, chart->repeat, &changed.repeat,
                                             &remedy->ntorn_rows);
}

static void finish(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;

    count_now(fitting);
    for (int i = 0; i < fitting->count; i++) {
        struct fit_remedy *remedy = &fitting->remedies[i];

        remedy->meets = remedy->kind == FIT_ANOTHER_GAUGE || is_near(fitting, remedy->stitches);
        remedy->far = remedy->kind != FIT_ANOTHER_GAUGE &&
                      !is_within(fitting, remedy->stitches, question->far_ratio);
        cost_chart(fitting, remedy);
    }
}

struct fit_answer *fit_answer(struct work *work, const struct fit_question *question)
{
    struct fitting fitting = {.work = work, .question = question};
    struct fit_answer *answer = arena_alloc(work->arena, 1, sizeof *answer);

    fitting.facts.question = question;
    fitting.remedies =
        arena_alloc(work->arena, (size_t)FIT_KIND_COUNT * OF_A_KIND + 1, sizeof *fitting.remedies);
    if (look_around(&fitting)) {
        offer_counts(&fitting);
        offer_shaping(&fitting);
        offer_columns(&fitting);
        offer_trim_and_pad(&fitting);
        offer_part_repeats(&fitting);
        offer_gauges(&fitting);
        offer_redraw(&fitting);
        finish(&fitting);
    }
    *answer = (struct fit_answer){fitting.remedies, fitting.count, fitting.facts};
    fit_rank(&answer->facts, answer->remedies, answer->count);
    return answer;
}
