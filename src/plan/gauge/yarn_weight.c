/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The name of a yarn weight for a gauge, and a gauge for a yarn weight.
 *
 * Ranges of the table overlap and leave gaps. A gauge in one range has its name; in two, or in none
 * between two, that of the nearer middle, decided exactly; as near to two, both are named.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"

static struct rational exact(double stitches)
{
    return rational_make(llround(stitches * 1000.0), 1000);
}

static double end_of(const struct table *weights, int row, bool high)
{
    return table_number(weights, row, high ? "knit_sts_4in_max" : "knit_sts_4in_min");
}

/* Stitches to 4 inches; of an open range its one end. */
static struct rational middle_of(const struct table *weights, int row)
{
    double low = end_of(weights, row, false), high = end_of(weights, row, true);

    low = isnan(low) ? high : low;
    high = isnan(high) ? low : high;
    return rational_div(rational_add(exact(low), exact(high)), rational_whole(2));
}

struct rational plan_weight_per_in(const struct table *weights, int row)
{
    return rational_div(middle_of(weights, row), rational_whole(4));
}

/* The gauge lies under the row's range (-1), in it, or over it (1). */
static int side_of(const struct table *weights, int row, struct rational per_4in)
{
    double low = end_of(weights, row, false), high = end_of(weights, row, true);

    if (!isnan(low) && rational_compare(per_4in, exact(low)) < 0)
        return -1;
    return !isnan(high) && rational_compare(per_4in, exact(high)) > 0;
}

static struct rational away(const struct table *weights, int row, struct rational per_4in)
{
    return rational_distance(per_4in, middle_of(weights, row));
}

const char *plan_weight_name(const struct builder *builder, struct rational per_in)
{
    const struct table *weights = tables_find(builder->work->tables, "yarn_weights");
    struct rational per_4in = rational_mul(per_in, rational_whole(4));
    bool held = false, finer = true, heavier = true;
    int best = -1, also = -1;

    if (!weights || !rational_is_value(per_4in))
        return NULL;
    for (int row = 0; row < weights->nrows; row++) {
        int side = side_of(weights, row, per_4in);

        held = held || side == 0;
        finer = finer && side > 0;
        heavier = heavier && side < 0;
    }
    for (int row = 0; row < weights->nrows && !finer && !heavier; row++) {
        int order = best < 0 ? -1
                             : rational_compare(away(weights, row, per_4in),
                                                away(weights, best, per_4in));

        if ((held && side_of(weights, row, per_4in) != 0) || order > 0)
            continue;
        also = order == 0 ? row : -1;
        best = order == 0 ? best : row;
    }
    if (best < 0)
        return NULL;
    return also < 0 ? table_field(weights, best, "name")
                    : arena_printf(builder->work->arena, "%s or %s", table_field(weights, best, "name"),
                                   table_field(weights, also, "name"));
}
