"""`python -m askplant` does what the `askplant` command does."""

import sys

from askplant.cli import main

sys.exit(main())
