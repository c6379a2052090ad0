/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "apportion.h"

#include <math.h>
#include <stdbool.h>

static const double MOST_STEPS = 9e15; /* beyond, a double no longer counts one by one */

/* What part i would gain in truth by one step more (towards 1), or by one less (-1). */
static double gain(double value, int64_t steps, int64_t towards)
{
    return (value - (double)steps) * (double)towards;
}

/* The part to be moved by one step; -1: none that may. */
static int choose(const double *value, const int64_t *steps, int n, double firm, int64_t towards)
{
    int found = -1;

    for (int i = 0; i < n; i++) {
        bool ahead;

        if (value[i] < firm || steps[i] + towards < 0)
            continue;
        ahead = found < 0 ||
                gain(value[i], steps[i], towards) > gain(value[found], steps[found], towards);
        /* of equal ones the last loses, so that the first keeps */
        if (ahead || (towards < 0 && !(gain(value[i], steps[i], towards) <
                                       gain(value[found], steps[found], towards))))
            found = i;
    }
    return found;
}

int64_t apportion(const double *part, int n, double step, double firm, int64_t *steps)
{
    double value[APPORTION_MAX], sum = 0;
    int64_t whole, given = 0;

    n = n > APPORTION_MAX ? APPORTION_MAX : n;
    for (int i = 0; i < n; i++) {
        sum += part[i];
        steps[i] = 0;
    }
    if (!(step > 0 && sum >= 0 && sum / step < MOST_STEPS))
        return 0;
    whole = (int64_t)llround(sum / step);
    for (int i = 0; i < n; i++) {
        value[i] = part[i] / step;
        steps[i] = (int64_t)llround(value[i]);
        given += steps[i];
    }
    while (given != whole) {
        int64_t towards = given < whole ? 1 : -1;
        int i = choose(value, steps, n, firm, towards);

        if (i < 0)
            i = choose(value, steps, n, 0, towards);
        if (i < 0)
            break;
        steps[i] += towards;
        given += towards;
    }
    return whole;
}
