/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A remedy in words: what to do, then what it costs. Called by fit.c alone.
 */
#ifndef STRANDWISE_FIT_LINE_H
#define STRANDWISE_FIT_LINE_H

#include "fit.h"

struct fit_case {
    const struct fit_question *question;
    int64_t body_sts; /* what the rest keeps: the target, to a whole stitch, or what is asked */
    double wanted_in;
    int64_t planned_sts;      /* the nearest whole repeats, with a chart; else 0 */
    struct fit_floats floats; /* with these */
};

/* Given: a remedy whose other fields are filled in; extra_rounds is set. Returned: whole sentences. */
const char *fit_line(struct work *work, const struct fit_case *facts, struct fit_remedy *remedy);

#endif
