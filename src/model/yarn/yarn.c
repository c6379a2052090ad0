/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "yarn.h"

#include <math.h>

double yarn_stitches_mm(int64_t stitches, double loop_mm)
{
    return (double)stitches * loop_mm;
}

double yarn_floats_mm(int64_t float_sts, double width_mm, double slack_ratio)
{
    return (double)float_sts * width_mm * slack_ratio;
}

double yarn_catches_mm(int64_t catches, double width_mm, double widths_each)
{
    return (double)catches * widths_each * width_mm;
}

double yarn_edge_mm(double width_mm, double multiple, double extra_mm)
{
    return width_mm * multiple + extra_mm;
}

double yarn_duplicate_mm(int64_t stitches, double loop_mm, double loop_ratio, double travel_mm,
                         int64_t spots, double tails_mm)
{
    return (double)stitches * loop_mm * loop_ratio + travel_mm + (double)spots * tails_mm;
}

/* A need that lost its last bits on the way must not cost a ball. */
static int is_enough(double have_m, double need_m)
{
    const double hair = 1e-9;

    return have_m >= need_m * (1 - hair);
}

int yarn_balls(double length_m, double margin, double ball_m, double join_m,
               struct ball_count *count)
{
    const double most_balls = 1e12;
    double wanted_m = length_m * (1 + margin), least;
    int64_t balls;

    *count = (struct ball_count){0};
    if (!(ball_m > 0 && isfinite(ball_m)) || !(join_m >= 0 && join_m < ball_m))
        return -1;
    if (!(wanted_m >= 0 && wanted_m / (ball_m - join_m) < most_balls))
        return -1;
    if (!(wanted_m > 0))
        return 0;
    /* Every ball after the first brings its length less a join: start just under the answer,
     * then upwards, because each ball added asks for a join of its own. */
    least = floor((wanted_m - join_m) / (ball_m - join_m));
    balls = least > 2 ? (int64_t)least - 1 : 1;
    while (!is_enough((double)balls * ball_m, wanted_m + (double)(balls - 1) * join_m))
        balls++;
    count->balls = balls;
    count->need_m = wanted_m + (double)(balls - 1) * join_m;
    count->left_m = fmax(0, (double)balls * ball_m - count->need_m);
    count->last_used = fmin(1, 1 - count->left_m / ball_m);
    return 0;
}

int yarn_balls_beside(double length_m, double margin, double have_m, double ball_m, double join_m,
                      struct ball_count *count)
{
    double short_m = length_m * (1 + margin) - have_m;

    if (!(have_m > 0))
        return yarn_balls(length_m, margin, ball_m, join_m, count);
    if (short_m > 0)
        return yarn_balls(short_m + join_m, 0, ball_m, join_m, count);
    *count = (struct ball_count){.left_m = -short_m};
    return 0;
}

void yarn_balls_raise(struct ball_count *count, int64_t balls, double ball_m)
{
    if (balls <= count->balls)
        return;
    count->left_m += (double)(balls - count->balls) * ball_m;
    count->last_used = 0;
    count->balls = balls;
}
