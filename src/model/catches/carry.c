/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "carry.h"

/* Rows times a row's height is a rounded product: a wait exactly at the limit counts as
 * within it. No gauge is known to one part in a thousand million. */
static const double WITHIN = 1 + 1e-9;

struct wait {
    int64_t rows;
    double height_mm;
    bool unknown;
};

static void tally_wait(const struct wait *wait, double limit_mm, double ratio,
                       struct carry_tally *tally)
{
    if (wait->unknown || wait->height_mm > limit_mm * WITHIN) {
        tally->cuts++;
        return;
    }
    tally->waits++;
    tally->carried_rows += wait->rows;
    tally->carried_mm += wait->height_mm * ratio;
    if (wait->rows > tally->longest_wait_rows)
        tally->longest_wait_rows = wait->rows;
}

void carry_tally_yarn(const struct carry_stretch *stretches, int nstretches, int yarn,
                      double limit_mm, double ratio, struct carry_tally *tally)
{
    struct wait wait = {0};
    bool begun = false, waiting = false;

    *tally = (struct carry_tally){0};
    for (int i = 0; i < nstretches; i++) {
        const struct carry_stretch *stretch = &stretches[i];

        if (stretch->yarns >> yarn & 1) {
            if (waiting)
                tally_wait(&wait, limit_mm, ratio, tally);
            wait = (struct wait){0};
            waiting = false;
            begun = true;
        } else if (begun && (stretch->rows > 0 || stretch->unknown)) {
            wait.rows += stretch->rows;
            wait.height_mm += (double)stretch->rows * stretch->row_height_mm;
            wait.unknown |= stretch->unknown;
            waiting = true;
        }
    }
    tally->ends = begun ? 2 + 2 * tally->cuts : 0;
}
