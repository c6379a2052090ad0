/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarn in hand.
 */
#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

/* Grams become metres by the ball band. */
static bool has_ball(const struct reader *reader, const struct slice *slice)
{
    struct slice ball;
    struct place at;

    if (reader_slice(reader, "ball", &ball, &at))
        return true;
    slice_fault(reader, slice, DIAG_KEY_MISSING,
                "Yarn in hand is given by its weight, and the ball band is not known.",
                "Write weight and length of a full ball as well, ball = 50 g, 210 m; or give what "
                "you have as a length, have = 150 m.");
    return false;
}

struct given_have reader_have(struct reader *reader, const char *key)
{
    struct given_have out = {.mass_g = rational_none(), .length_m = rational_none()};
    struct quantity quantity;
    struct slice slice;
    bool by_weight;

    if (!reader_slice(reader, key, &slice, &out.at) ||
        !slice_quantity(reader, &slice, &quantity))
        return out;
    out.mass_g = quantity_grams(quantity, UNIT_NONE);
    out.length_m = quantity_metres(quantity, UNIT_NONE);
    by_weight = rational_is_value(out.mass_g);
    if (!by_weight && !rational_is_value(out.length_m)) {
        slice_fault(reader, &slice, DIAG_VALUE_UNIT,
                    "What you have is a weight in g or oz, or a length in m or yd.",
                    slice_example(reader, &slice));
        return out;
    }
    if (!slice_in_range(reader, &slice, slice.key->range,
                        by_weight ? out.mass_g : out.length_m,
                        by_weight ? UNIT_GRAM : UNIT_METRE) ||
        (by_weight && !has_ball(reader, &slice)))
        out.mass_g = out.length_m = rational_none();
    return out;
}
