/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sizing.h"

#include "shaping.h"

struct rational sizing_finished_in(struct rational measure_in, bool ease_is_ratio,
                                   struct rational ease)
{
    if (!ease_is_ratio)
        return rational_add(measure_in, ease);
    return rational_mul(measure_in, rational_add(rational_whole(1), ease));
}

/* A tie goes to the larger: too big a piece can be worn, too small a one cannot. */
static int64_t nearer_count(struct rational target_sts, int64_t below, int64_t above)
{
    struct rational down = rational_sub(target_sts, rational_whole(below));
    struct rational up = rational_sub(rational_whole(above), target_sts);

    if (!rational_is_value(down) || !rational_is_value(up))
        return below;
    return rational_compare(down, up) < 0 ? below : above;
}

int64_t sizing_multiple_below(struct rational target_sts, int64_t multiple, int64_t plus)
{
    int64_t whole;

    if (!rational_is_value(target_sts) || multiple < 1)
        return -1;
    whole = rational_floor(target_sts);
    if (whole < plus)
        return -1;
    return whole - (whole - plus) % multiple;
}

int64_t sizing_multiple_above(struct rational target_sts, int64_t multiple, int64_t plus)
{
    int64_t below = sizing_multiple_below(target_sts, multiple, plus);

    if (!rational_is_value(target_sts) || multiple < 1)
        return -1;
    return (below < 0 ? plus : below) + multiple;
}

int64_t sizing_nearest_multiple(struct rational target_sts, int64_t multiple, int64_t plus)
{
    int64_t below = sizing_multiple_below(target_sts, multiple, plus);
    int64_t above = sizing_multiple_above(target_sts, multiple, plus);

    return below < multiple + plus ? above : nearer_count(target_sts, below, above);
}

/* What shaping from one count to the next costs; 0: there is none. */
static int shaping_cost(int64_t from, int64_t to, bool even)
{
    if (from < 1 || to < 1)
        return 0;
    return even ? !shaping_is_even(from, to) : shaping_rounds(from, to);
}

static struct rational distance(struct rational target_sts, int64_t count)
{
    struct rational away = rational_sub(target_sts, rational_whole(count));

    return away.num < 0 ? rational_sub(rational_whole(0), away) : away;
}

/* What two counts cost beside those that stand there, and how near they are. Below 0: a is better. */
static int compare_plain(struct rational target_sts, int64_t a, int64_t b, int64_t below, int64_t above)
{
    for (int even = 0; even < 2; even++) {
        int cost_a = shaping_cost(below, a, even) + shaping_cost(a, above, even);
        int cost_b = shaping_cost(below, b, even) + shaping_cost(b, above, even);

        if (cost_a != cost_b)
            return cost_a - cost_b;
    }
    return rational_compare(distance(target_sts, a), distance(target_sts, b));
}

int64_t sizing_plain_count(struct rational target_sts, struct rational near_ratio, int64_t below,
                           int64_t above)
{
    struct rational reach = rational_mul(target_sts, near_ratio);
    int64_t best = rational_nearest(target_sts), first, last;

    if (!rational_is_value(reach))
        return best;
    first = rational_ceil(rational_sub(target_sts, reach));
    last = rational_floor(rational_add(target_sts, reach));
    for (int64_t count = last; count >= first && count > 0; count--)
        if (compare_plain(target_sts, count, best, below, above) < 0)
            best = count;
    return best;
}

double sizing_step_in(int plain_sts, double plain_per_in, int band_sts, double band_per_in)
{
    return plain_sts / plain_per_in - band_sts / band_per_in;
}

double sizing_even_sts(int plain_sts, double plain_per_in, double band_per_in)
{
    return plain_sts / plain_per_in * band_per_in;
}

bool sizing_rib_divides(int64_t stitches, int knit, int purl, bool flat)
{
    int64_t rib = (int64_t)knit + purl;

    if (stitches < 1 || knit < 0 || purl < 0 || rib < 1)
        return false;
    return stitches % rib == 0 || (flat && stitches % rib == knit);
}

void sizing_rib_around(int64_t stitches, int knit, int purl, bool flat, int64_t *below,
                       int64_t *above)
{
    *below = 0;
    *above = 0;
    if (knit < 0 || purl < 0 || (int64_t)knit + purl < 1)
        return;
    for (int64_t n = stitches; n > 0 && *below == 0; n--)
        if (sizing_rib_divides(n, knit, purl, flat))
            *below = n;
    for (int64_t n = stitches > 0 ? stitches : 1; *above == 0; n++)
        if (sizing_rib_divides(n, knit, purl, flat))
            *above = n;
}

int64_t sizing_rib_nearest(struct rational target_sts, int knit, int purl, bool flat)
{
    int64_t below, above;

    if (!rational_is_value(target_sts))
        return 0;
    sizing_rib_around(rational_floor(target_sts), knit, purl, flat, &below, &above);
    /* A target between two whole counts: the floor may divide and yet not be the nearest. */
    if (above == below)
        sizing_rib_around(below + 1, knit, purl, flat, &(int64_t){0}, &above);
    return below < 1 ? above : nearer_count(target_sts, below, above);
}

int64_t sizing_gcd(int64_t a, int64_t b)
{
    while (b != 0) {
        int64_t rest = a % b;

        a = b;
        b = rest;
    }
    return a < 0 ? -a : a;
}

int64_t sizing_lcm(int64_t a, int64_t b)
{
    int64_t divisor = sizing_gcd(a, b), product;

    if (divisor == 0)
        return 0;
    if (__builtin_mul_overflow(a / divisor, b, &product) || product == INT64_MIN)
        return -1;
    return product < 0 ? -product : product;
}
