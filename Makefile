PYTHON ?= python3

.PHONY: demo test check bench shots setup lock
demo test check bench shots setup lock:
	@$(PYTHON) dev.py $@
