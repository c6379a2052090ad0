/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where the yarn goes, in millimetres; and how many balls that is. Pure.
 *
 * Every constant is handed in: the plan takes them from tables/allowances.csv.
 */
#ifndef STRANDWISE_YARN_H
#define STRANDWISE_YARN_H

#include <stdint.h>

double yarn_stitches_mm(int64_t stitches, double loop_mm);
double yarn_floats_mm(int64_t float_sts, double width_mm, double slack_ratio);
double yarn_catches_mm(int64_t catches, double width_mm, double widths_each);
/* A cast-on, bind-off or seam: multiple x width + extra. */
double yarn_edge_mm(double width_mm, double multiple, double extra_mm);

/* Duplicate stitch: per stitch loop x ratio, travel behind from one to the next where it is at most
 * reach stitches away, and tails for each separate spot. */
double yarn_duplicate_mm(int64_t stitches, double loop_mm, double loop_ratio, double travel_mm,
                         int64_t spots, double tails_mm);

struct ball_count {
    int64_t balls;
    double need_m;    /* with margin and joins for further balls */
    double left_m;    /* balls x ball length - need */
    double last_used; /* of the last ball, 0..1 */
};

/* Balls for length_m, margin a part (0.1), each further ball costing join_m.
 * Iterated upwards until it stands; no length: no balls. Status: 0; -1 ball not positive, join_m >=
 * ball, or a length below 0 or beyond counting. */
int yarn_balls(double length_m, double margin, double ball_m, double join_m,
               struct ball_count *count);

/* The same where have_m is in hand and used first: the balls for what is short of it, the first
 * of them joined on too. count->need_m is what is to be bought. 0 balls where it is enough; left_m is
 * then what is over of it.
 * Checked: test_have, by hand. */
int yarn_balls_beside(double length_m, double margin, double have_m, double ball_m, double join_m,
                      struct ball_count *count);

/* So many balls in place of fewer, for the same need: the further ones stay untouched. */
void yarn_balls_raise(struct ball_count *count, int64_t balls, double ball_m);

#endif
