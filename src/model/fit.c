/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which remedies there are and what each costs. The sentences are in fit_line.c.
 */
#include "fit.h"

#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "fit_line.h"
#include "sizing.h"

enum { OF_A_KIND = 2, STITCHES_MOST = 1000000 };

struct fitting {
    struct work *work;
    const struct fit_question *question;
    struct fit_case facts;
    struct rational below_off,
        above_off;        /* to the whole repeats around the target; none: no such */
    int64_t below, above; /* those counts; below 0: no whole repeat goes in */
    struct fit_remedy *remedies;
    int count;
};

const char *fit_kind_name(enum fit_kind kind)
{
    static const char *const names[FIT_KIND_COUNT] = {"another count", "shape", "plain columns",
                                                      "part repeats", "another gauge"};

    return names[kind];
}

static double inches_of(const struct fitting *fitting, int64_t stitches)
{
    return rational_double(rational_div(rational_whole(stitches), fitting->question->per_in));
}

static struct rational distance(struct rational a, int64_t stitches)
{
    struct rational off = rational_sub(a, rational_whole(stitches));

    return off.num < 0 ? rational_sub(rational_whole(0), off) : off;
}

static struct fit_remedy *add_remedy(struct fitting *fitting, enum fit_kind kind, int64_t stitches)
{
    struct fit_remedy *remedy = &fitting->remedies[fitting->count++];
    const struct fit_question *question = fitting->question;

    remedy->kind = kind;
    remedy->stitches = stitches;
    remedy->repeats = (stitches - question->side_sts) / question->repeat_sts;
    remedy->finished_in = inches_of(fitting, stitches);
    remedy->off_in = remedy->finished_in - fitting->facts.wanted_in;
    remedy->gauge_per_in = rational_double(question->per_in);
    return remedy;
}

/* The two whole counts around the target, the nearer first; a tie to the larger. */
static int counts_nearest_first(const struct fitting *fitting, int64_t counts[OF_A_KIND])
{
    bool below_first =
        fitting->below > 0 && rational_compare(fitting->below_off, fitting->above_off) < 0;
    int ncounts = 0;

    if (below_first)
        counts[ncounts++] = fitting->below;
    counts[ncounts++] = fitting->above;
    if (fitting->below > 0 && !below_first)
        counts[ncounts++] = fitting->below;
    return ncounts;
}

static void offer_counts(struct fitting *fitting)
{
    int64_t counts[OF_A_KIND];
    int ncounts = counts_nearest_first(fitting, counts);

    for (int i = 0; i < ncounts; i++) {
        struct fit_remedy *remedy = add_remedy(fitting, FIT_ANOTHER_COUNT, counts[i]);

        remedy->line = fit_line_count(fitting->work, &fitting->facts, remedy);
    }
}

static void offer_shaping(struct fitting *fitting)
{
    int64_t counts[OF_A_KIND], body = fitting->facts.body_sts;
    int ncounts = counts_nearest_first(fitting, counts);

    for (int i = 0; i < ncounts; i++) {
        int change = (int)(counts[i] > body ? counts[i] - body : body - counts[i]);
        struct fit_remedy *remedy;

        if (change == 0 || counts[i] > STITCHES_MOST)
            continue;
        remedy = add_remedy(fitting, FIT_SHAPE, counts[i]);
        remedy->increase = remedy->decrease = change;
        remedy->before_is_decrease = counts[i] < body;
        remedy->line = fit_line_shape(fitting->work, &fitting->facts, remedy);
    }
}

/* Plain columns that bring so many repeats nearest the target; 0: none, or no nearer than
 * whole repeats come without. */
static int columns_for(const struct fitting *fitting, int64_t repeats)
{
    const struct fit_question *question = fitting->question;
    int64_t bare = repeats * question->repeat_sts + question->side_sts, columns;
    struct rational each = rational_div(rational_sub(question->target_sts, rational_whole(bare)),
                                        rational_whole(repeats));
    struct rational off;

    if (!rational_is_value(each))
        return 0;
    columns = rational_nearest(each);
    off = distance(question->target_sts, bare + columns * repeats);
    /* As many columns as the motif is wide: another motif would go in their place. */
    if (columns < 1 || columns >= question->repeat_sts || !rational_is_value(off) ||
        rational_compare(off, fitting->below_off) >= 0 ||
        rational_compare(off, fitting->above_off) >= 0)
        return 0;
    return (int)columns;
}

/* As many motifs as go in, then one fewer: the fewest plain columns come first. */
static void offer_columns(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    int64_t most = (fitting->below - question->side_sts) / question->repeat_sts;

    if (fitting->below < 1)
        return;
    for (int64_t repeats = most; repeats >= 1 && repeats > most - OF_A_KIND; repeats--) {
        int columns = columns_for(fitting, repeats);
        int64_t stitches = repeats * (question->repeat_sts + (int64_t)columns) + question->side_sts;
        struct fit_remedy *remedy;

        if (columns == 0)
            continue;
        remedy = add_remedy(fitting, FIT_PLAIN_COLUMNS, stitches);
        remedy->repeats = repeats;
        remedy->plain_columns = columns;
        remedy->line = fit_line_columns(fitting->work, &fitting->facts, remedy);
    }
}

static void offer_part_repeats(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    int64_t body = fitting->facts.body_sts;
    int64_t over = (body - question->side_sts) % question->repeat_sts;
    struct fit_remedy *remedy;

    if (body < question->side_sts + (int64_t)question->repeat_sts || over == 0)
        return;
    remedy = add_remedy(fitting, FIT_PART_REPEATS, body);
    remedy->left_over = (int)over;
    remedy->line = fit_line_part_repeats(fitting->work, &fitting->facts, remedy);
}

static bool is_within_reach(struct rational change, double reach)
{
    /* To a millionth, so that 6 % is 6 % and not a hair less. */
    struct rational limit = rational_make(llround(reach * 1e6), 1000000);
    struct rational size = change.num < 0 ? rational_sub(rational_whole(0), change) : change;

    return rational_is_value(size) && rational_compare(size, limit) <= 0;
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
        if (counts[i] == fitting->facts.body_sts ||
            !is_within_reach(rational_sub(ratio, rational_whole(1)), question->gauge_reach))
            continue;
        remedy = add_remedy(fitting, FIT_ANOTHER_GAUGE, counts[i]);
        remedy->gauge_per_in = rational_double(rational_mul(question->per_in, ratio));
        remedy->finished_in = fitting->facts.wanted_in;
        remedy->off_in = 0;
        remedy->line = fit_line_gauge(fitting->work, &fitting->facts, remedy);
    }
}

/* false: nothing to be said (it fits, or the question makes no sense). */
static bool look_around(struct fitting *fitting)
{
    const struct fit_question *question = fitting->question;
    struct rational target = question->target_sts;
    struct rational wanted = rational_div(target, question->per_in);

    if (!rational_is_value(wanted) || rational_sign(wanted) <= 0 || question->repeat_sts < 1 ||
        question->side_sts < 0 || rational_floor(target) > STITCHES_MOST)
        return false;
    fitting->facts.body_sts = rational_nearest(target);
    fitting->facts.wanted_in = rational_double(wanted);
    fitting->below = sizing_multiple_below(target, question->repeat_sts, question->side_sts);
    fitting->above = sizing_multiple_above(target, question->repeat_sts, question->side_sts);
    if (fitting->below < question->side_sts + (int64_t)question->repeat_sts)
        fitting->below = 0;
    fitting->below_off = distance(target, fitting->below);
    fitting->above_off = distance(target, fitting->above);
    if (!rational_is_value(fitting->below_off) || !rational_is_value(fitting->above_off))
        return false;
    return fitting->below == 0 || rational_sign(fitting->below_off) > 0;
}

const struct fit_remedy *fit_remedies(struct work *work, const struct fit_question *question,
                                      int *count)
{
    struct fitting fitting = {.work = work, .question = question};

    *count = 0;
    fitting.facts.question = question;
    fitting.remedies =
        arena_alloc(work->arena, (size_t)FIT_KIND_COUNT * OF_A_KIND, sizeof *fitting.remedies);
    if (!look_around(&fitting))
        return fitting.remedies;
    offer_counts(&fitting);
    offer_shaping(&fitting);
    offer_columns(&fitting);
    offer_part_repeats(&fitting);
    offer_gauges(&fitting);
    *count = fitting.count;
    return fitting.remedies;
}
