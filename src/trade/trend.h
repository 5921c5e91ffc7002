/* How well the line of a trend is known. */
#ifndef TOOTHRACK_TRADE_TREND_H
#define TOOTHRACK_TRADE_TREND_H

#include "toothrack/trade.h"

/*
 * By how much the line varies more than that of least squares does, whose variance is known. At the
 * mean run: pi/2, what a median of many normal values varies more than their mean.
 */
#define LEVEL_VARIANCE 1.5708
/* The slope: measured over normal readings at runs drawn evenly, by their count. */
static inline double trend_slope_variance(size_t count)
{
	return count <= TREND_POINTS_LEAST ? 1.1 : 1.05 + 1.5 / (double)count;
}

#endif
