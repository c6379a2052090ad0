/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A remedy in words: what to do, then what it costs. Called by fit.c alone.
 */
#ifndef STRANDWISE_FIT_LINE_H
#define STRANDWISE_FIT_LINE_H

#include "fit.h"

/* Given: a remedy whose other fields are filled in; extra_rounds is set where
 * the parts beside the band are not known. Returned: whole sentences; brief: one of
 * a line or two, without capital or stop. */
const char *fit_brief(struct work *work, const struct fit_case *facts,
                      const struct fit_remedy *remedy);
const char *fit_line(struct work *work, const struct fit_case *facts, struct fit_remedy *remedy);

#endif
