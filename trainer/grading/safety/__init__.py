"""Safety rules: what nobody may do, whatever the job asks for; one subject per file."""
