from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("reviews", "0004_operations")]

    operations = [
        migrations.AddField(
            model_name="sheetfile",
            name="small",
            field=models.FileField(blank=True, db_default="", default="", upload_to="small"),
        ),
    ]
