#!/bin/sh
# Makes the references of other programs anew, with those programs, in a copy
# of the code, and runs our tests against what they said just now.
# Needs Debian's R (lme4, emmeans, robustbase, multcomp, mvtnorm, jsonlite) and
# python3 (scipy, scikit-learn, statsmodels, fluids, iapws); installs them where it may.
set -eu
cd "$(dirname "$0")/../.."
if ! command -v Rscript >/dev/null 2>&1 || ! /usr/bin/python3 -c 'import scipy, sklearn, statsmodels, fluids, iapws' 2>/dev/null ||
	! Rscript -e 'for (p in c("lme4","emmeans","robustbase","multcomp","mvtnorm","jsonlite")) library(p,character.only=TRUE)' >/dev/null 2>&1; then
	if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
		echo "installing Debian's R and scipy"
		apt-get update -qq
		DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends r-base-core r-cran-lme4 r-cran-emmeans \
			r-cran-robustbase r-cran-multcomp r-cran-mvtnorm r-cran-jsonlite python3-scipy python3-sklearn python3-statsmodels python3-fluids python3-iapws >/dev/null
	else
		echo "crosscheck needs R with lme4, emmeans, robustbase, multcomp, mvtnorm, jsonlite and python3 with scipy, scikit-learn, statsmodels, fluids, iapws" >&2
		exit 1
	fi
fi
copy=build/cross
rm -rf $copy
mkdir -p $copy
cp -r app cmd core testdata pwa go.mod go.sum $copy/
# Removed first, so that a program which says nothing leaves a hole and no old figure.
( cd $copy/testdata/statistics
	rm golden_R.json golden_py.json handbook_cases.json nist_strd.json
	cp ../score/strokes_baseline.csv ..
	Rscript golden.R >../../R.log 2>&1 || { tail -5 ../../R.log; exit 1; }
	/usr/bin/python3 golden.py >../../python.log 2>&1 || { tail -5 ../../python.log; exit 1; }
	for f in golden_R.json golden_py.json ellipse_factors.csv power.csv power_dispersion.csv tukey_dunnett_quantiles.csv; do cp $f ../score/$f; done )
rm $copy/testdata/air/*.csv
/usr/bin/python3 -W ignore $copy/testdata/air/air.py $copy/testdata/air
# Its own solver flies the golden flights again, then makes them anew for our test.
/usr/bin/python3 $copy/testdata/flight/dop853.py -check testdata/flight/dop853.csv
rm $copy/testdata/flight/dop853.csv
/usr/bin/python3 $copy/testdata/flight/dop853.py > build/dop853.csv && mv build/dop853.csv $copy/testdata/flight/dop853.csv
# What a regression of the launch columns alone reaches on the measured drives.
/usr/bin/python3 testdata/measured/floors.py -check
Rscript -e 'cat(R.version.string, "; lme4", format(packageVersion("lme4")), "; emmeans", format(packageVersion("emmeans")), "; mvtnorm", format(packageVersion("mvtnorm")), "\n")'
/usr/bin/python3 -c 'import sys, numpy, scipy; print("Python", sys.version.split()[0], "; numpy", numpy.__version__, "; scipy", scipy.__version__)'
exec ${GO:-go} run ./cmd/proof -cross $copy
