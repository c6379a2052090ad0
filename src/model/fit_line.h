/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A remedy in words: what to do, then what it costs. Called by fit.c alone.
 */
#ifndef STRANDWISE_FIT_LINE_H
#define STRANDWISE_FIT_LINE_H

#include "fit.h"

struct fit_case {
    const struct fit_question *question;
    int64_t body_sts; /* the target, to a whole stitch */
    double wanted_in;
};

/* Given: a remedy whose other fields are filled in. Returned: whole sentences. */
const char *fit_line_count(struct work *work, const struct fit_case *facts,
                           const struct fit_remedy *remedy);
const char *fit_line_shape(struct work *work, const struct fit_case *facts,
                           const struct fit_remedy *remedy);
const char *fit_line_columns(struct work *work, const struct fit_case *facts,
                             const struct fit_remedy *remedy);
const char *fit_line_part_repeats(struct work *work, const struct fit_case *facts,
                                  const struct fit_remedy *remedy);
const char *fit_line_gauge(struct work *work, const struct fit_case *facts,
                           const struct fit_remedy *remedy);

#endif
