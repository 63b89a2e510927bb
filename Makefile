PYTHON ?= python3

.PHONY: demo test check shots setup lock
demo test check shots setup lock:
	@$(PYTHON) dev.py $@
