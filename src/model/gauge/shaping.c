/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shaping.h"

int shaping_rounds(int64_t from, int64_t to)
{
    int rounds = 0;

    if (to > from) {
        for (int64_t n = from; n < to; n *= 2)
            rounds++;
    } else {
        for (int64_t n = to; n < from; n *= 2)
            rounds++;
    }
    return rounds;
}

bool shaping_is_even(int64_t from, int64_t to)
{
    int64_t shapings = to > from ? to - from : from - to;
    int64_t plain = to > from ? from : from - 2 * shapings;

    if (shapings == 0)
        return true;
    if (shaping_rounds(from, to) > 1)
        return to > from ? from << shaping_rounds(from, to) == to : to << shaping_rounds(from, to) == from;
    return plain % shapings == 0;
}
