"""Pure calculations: records in, frozen results out. No paths, no YAML, no templates, no clock."""
