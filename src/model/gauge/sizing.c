/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sizing.h"

#include <stdlib.h>

#include "shaping.h"

struct rational sizing_finished_in(struct rational measure_in, bool ease_is_ratio,
                                   struct rational ease)
{
    if (!ease_is_ratio)
        return rational_add(measure_in, ease);
    return rational_mul(measure_in, rational_add(rational_whole(1), ease));
}

/* What shaping from one count to the next costs; 0: there is none. */
static int shaping_cost(int64_t from, int64_t to, bool even)
{
    if (from < 1 || to < 1)
        return 0;
    return even ? !shaping_is_even(from, to) : shaping_rounds(from, to);
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
    return rational_compare(rational_distance(target_sts, rational_whole(a)),
                            rational_distance(target_sts, rational_whole(b)));
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

/* --- counts that suit ------------------------------------------------------------------ */

struct count_rule sizing_rib(int knit, int purl, bool ends)
{
    return (struct count_rule){knit + purl, 0, ends ? knit : -1};
}

bool sizing_suits(const struct count_rule *rule, int64_t count)
{
    if (count < 1 || rule->multiple < 1)
        return false;
    return (count > rule->plus && (count - rule->plus) % rule->multiple == 0) ||
           (rule->also_plus >= 0 && count >= rule->also_plus && (count - rule->also_plus) % rule->multiple == 0);
}

/* The count from `residue` on, by steps of `multiple`, that leaves `rest` over `by`; -1: none. The
 * steps run through all rests there are within by / gcd(multiple, by) of them. */
static int64_t meet(int64_t residue, int64_t multiple, int64_t by, int64_t rest)
{
    int64_t tries = by / sizing_gcd(multiple, by), step = multiple % by, now = residue % by;

    if (multiple == 1)
        return rest;
    for (int64_t i = 0; i < tries; i++) {
        if (now == rest)
            return residue + i * multiple;
        now = (now + step) % by;
    }
    return -1;
}

static int by_size(const void *a, const void *b)
{
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;

    return (x > y) - (x < y);
}

static void add_residue(struct count_set *counts, int64_t residue)
{
    for (int i = 0; i < counts->nresidues; i++)
        if (counts->residue[i] == residue)
            return;
    if (residue >= 0 && counts->nresidues < COUNT_RESIDUES)
        counts->residue[counts->nresidues++] = residue;
}

struct count_set sizing_counts(const struct count_rule *rules, int nrules)
{
    struct count_set all = {.multiple = 1, .least = 1, .nresidues = 1};

    for (int i = 0; i < nrules && all.nresidues > 0; i++) {
        const struct count_rule *rule = &rules[i];
        int64_t least = rule->also_plus < 0 ? rule->multiple + rule->plus : 1;
        struct count_set next = {.multiple = sizing_lcm(all.multiple, rule->multiple),
                              .least = least > all.least ? least : all.least};

        if (next.multiple <= 0)
            return (struct count_set){0};
        for (int j = 0; j < all.nresidues; j++) {
            add_residue(&next, meet(all.residue[j], all.multiple, rule->multiple, rule->plus % rule->multiple));
            if (rule->also_plus >= 0)
                add_residue(&next, meet(all.residue[j], all.multiple, rule->multiple,
                                        rule->also_plus % rule->multiple));
        }
        all = next;
    }
    qsort(all.residue, (size_t)all.nresidues, sizeof *all.residue, by_size);
    return all;
}

int64_t sizing_below(const struct count_set *counts, int64_t most)
{
    int64_t best = 0;

    for (int i = 0; i < counts->nresidues; i++) {
        int64_t r = counts->residue[i], found;

        if (most < r)
            continue;
        found = most - (most - r) % counts->multiple;
        if (found >= counts->least && found > best)
            best = found;
    }
    return best;
}

int64_t sizing_above(const struct count_set *counts, int64_t over)
{
    int64_t best = 0, least = over + 1 > counts->least ? over + 1 : counts->least;

    for (int i = 0; i < counts->nresidues; i++) {
        int64_t r = counts->residue[i], found = r;

        if (found < least)
            found += (least - r + counts->multiple - 1) / counts->multiple * counts->multiple;
        if (best == 0 || found < best)
            best = found;
    }
    return best;
}

int64_t sizing_nearest(const struct count_set *counts, struct rational target_sts)
{
    int64_t below, above;

    if (!rational_is_value(target_sts))
        return 0;
    below = sizing_below(counts, rational_floor(target_sts));
    above = sizing_above(counts, rational_floor(target_sts));
    /* A tie goes to the larger: too big a piece can be worn, too small a one cannot. */
    return below < 1 || rational_compare(rational_distance(target_sts, rational_whole(above)),
                                         rational_distance(target_sts, rational_whole(below))) <= 0
               ? above
               : below;
}

static int64_t nearest_of(struct count_rule rule, struct rational target_sts)
{
    struct count_set counts = sizing_counts(&rule, 1);

    return sizing_nearest(&counts, target_sts);
}

int64_t sizing_nearest_multiple(struct rational target_sts, int64_t multiple, int64_t plus)
{
    return nearest_of((struct count_rule){multiple, plus, -1}, target_sts);
}

int64_t sizing_rib_nearest(struct rational target_sts, int knit, int purl, bool ends)
{
    return nearest_of(sizing_rib(knit, purl, ends), target_sts);
}
