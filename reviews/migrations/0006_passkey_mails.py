from django.db import migrations, models

KINDS = [
    ("invitation", "Invitation"),
    ("link", "Personal link"),
    ("receipt", "Receipt of what you issue"),
    ("results", "Results are released"),
    ("answers", "Answers to your comments, once a day"),
    ("day", "What your studios handed in and what waits, once a day"),
    ("key-added", "Passkey added"),
    ("key-removed", "Passkey removed"),
]


class Migration(migrations.Migration):
    dependencies = [("reviews", "0005_small_pictures")]

    operations = [
        migrations.AddField(
            model_name="mail",
            name="named",
            field=models.CharField(blank=True, db_default="", default="", max_length=60),
        ),
        migrations.AlterField(
            model_name="mail",
            name="kind",
            field=models.CharField(choices=KINDS, max_length=12),
        ),
    ]
