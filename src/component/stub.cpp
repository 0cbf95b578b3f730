// replaced by the room's first source
