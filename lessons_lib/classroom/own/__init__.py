"""The page of a school's own material: what each of its parts asks for, and keeps."""
