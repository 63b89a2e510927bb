PYTHON ?= python3

.PHONY: demo test check setup lock
demo test check setup lock:
	@$(PYTHON) dev.py $@
