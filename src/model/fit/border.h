/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Plain and stranded fabric in one piece: the step between their widths. Pure.
 */
#ifndef STRANDWISE_BORDER_H
#define STRANDWISE_BORDER_H

/* Width of the plain part less that of the band, inches: below 0 where the band is the wider. */
double border_step_in(int plain_sts, double plain_per_in, int band_sts, double band_per_in);

/* Stitches of a band as wide as the plain part, exactly. */
double border_even_sts(int plain_sts, double plain_per_in, double band_per_in);

#endif
